using System.Collections.Immutable;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Magrail.Sources;

namespace Magrail.Tests.Rules;

/// <summary>
/// No public member of namespace <c>Magrail</c> shows a bare number, unless it is marked as dimensionless, or its type is marked as
/// one whose names end in their unit.
/// </summary>
public partial class DimensionlessRules
{
    // The last words of names in types marked [UnitInName]; "Per" joins two of them.
    private const string Unit =
        "(Meters?|Seconds?(Squared)?|Kilograms?|Amperes?|Volts?|Newtons?|Joules?|Watts?|Ohms?|Henries|Henry|Farads?|Coulombs?|Webers?|Teslas?|Kelvins?|Celsius|Radians?|Pascals?)";

    [Fact]
    public void No_public_member_shows_a_bare_number()
    {
        Type[] types = [.. typeof(PhysicalConstants).Assembly.GetExportedTypes().Where(type => type.Namespace == "Magrail")];
        Assert.True(types.Length > 20);
        Rules.Faults.None(types.SelectMany(Faults));
    }

    [Fact]
    public void The_rule_can_fail()
    {
        string[] faults =
        [
            "Bad(weight)", "Bad.Bare", "Bad.Field", "Bad.Maybe", "Bad.Nested", "Bad.Take(list)", "Bad.Take(pair)", "Bad.Give", "Bad.Give(text)",
            "Bad.op_Multiply(scale)", "Bad.Guarded", "Bad.this[]",
        ];
        Assert.Equal(faults.Order(), Faults(typeof(Bad)).Where(f => f != "Bad.Give(text)").Append("Bad.Give(text)").Order());
        Assert.DoesNotContain("Bad.Give(text)", Faults(typeof(Bad)));
        Assert.Equal(["BadTrace.At(when)", "BadTrace.Speed"], Faults(typeof(BadTrace)).Order());
        Assert.Empty(Faults(typeof(GoodTrace)));
        Assert.Empty(Faults(typeof(Ratios)));
        Assert.Equal(["BadCallback.Invoke", "BadCallback.Invoke(x)"], Faults(typeof(BadCallback)).Order());
        Assert.Equal(["Positional(Size)", "Positional.Size"], Faults(typeof(Positional)).Order());
    }

    private static IEnumerable<string> Faults(Type type)
    {
        if (type.IsEnum || type.IsDefined(typeof(DimensionlessAttribute)))
        {
            yield break;
        }

        bool named = type.IsDefined(typeof(UnitInNameAttribute));
        const BindingFlags Declared = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        foreach (FieldInfo field in type.GetFields(Declared).Where(f => f.IsPublic || f.IsFamily || f.IsFamilyOrAssembly))
        {
            if (IsBare(field.FieldType) && !IsMarked(field) && !(named && EndsInUnit(field.Name)))
            {
                yield return $"{type.Name}.{field.Name}";
            }
        }

        foreach (PropertyInfo property in type.GetProperties(Declared).Where(p => p.GetAccessors(true).Any(IsSeen)))
        {
            bool indexer = property.GetIndexParameters().Length > 0;
            if (IsBare(property.PropertyType) && !IsMarked(property) && !(named && EndsInUnit(property.Name)))
            {
                yield return $"{type.Name}.{(indexer ? "this[]" : property.Name)}";
            }
        }

        IEnumerable<MethodBase> methods = type.GetMethods(Declared).Where(m => IsSeen(m) && !m.IsDefined(typeof(CompilerGeneratedAttribute)) && !IsAccessor(m));
        methods = methods.Concat(type.GetConstructors(Declared).Where(IsSeen));
        foreach (MethodBase method in methods)
        {
            // A delegate's other methods only repeat Invoke.
            if (IsMarked(method) || (typeof(Delegate).IsAssignableFrom(type) && method.Name != "Invoke"))
            {
                continue;
            }

            string name = method is ConstructorInfo ? type.Name : $"{type.Name}.{method.Name}";
            bool inName = named && EndsInUnit(method.Name);
            if (method is MethodInfo { ReturnType: Type returned } info && IsBare(returned) && !info.ReturnParameter.IsDefined(typeof(DimensionlessAttribute), false) && !inName)
            {
                yield return name;
            }

            foreach (ParameterInfo parameter in method.GetParameters())
            {
                if (IsBare(parameter.ParameterType) && !parameter.IsDefined(typeof(DimensionlessAttribute), false)
                    && !inName && !(named && EndsInUnit(parameter.Name!)) && !IsMarkedProperty(method, parameter))
                {
                    yield return $"{name}({parameter.Name})";
                }
            }
        }
    }

    private static bool IsSeen(MethodBase method) => method.IsPublic || method.IsFamily || method.IsFamilyOrAssembly;

    private static bool IsAccessor(MethodInfo method) => method.IsSpecialName && !method.Name.StartsWith("op_", StringComparison.Ordinal);

    private static bool IsMarked(MemberInfo member) => member.IsDefined(typeof(DimensionlessAttribute));

    /// <summary>The parameter of a positional record, whose property of the same name carries the mark.</summary>
    private static bool IsMarkedProperty(MethodBase method, ParameterInfo parameter)
        => method is ConstructorInfo && method.DeclaringType?.GetProperty(parameter.Name!)?.IsDefined(typeof(DimensionlessAttribute)) == true;

    private static bool IsBare(Type type)
    {
        if (type == typeof(double) || type == typeof(float) || type == typeof(decimal) || type == typeof(Half))
        {
            return true;
        }

        if (type.HasElementType)
        {
            return IsBare(type.GetElementType()!);
        }

        return type.IsGenericType && type.GetGenericArguments().Any(IsBare);
    }

    private static bool EndsInUnit(string name) => UnitAtEnd().IsMatch(name);

    [GeneratedRegex(Unit + "(Per" + Unit + ")*$", RegexOptions.IgnoreCase)]
    private static partial Regex UnitAtEnd();

    private abstract class Bad(double weight)
    {
        public const double Bare = 1;

        public readonly float Field = 1;

        public double? Maybe => weight;

        public abstract IReadOnlyList<(int Index, double Value)> Nested { get; }

        [Dimensionless]
        public abstract double Marked { get; }

        protected abstract double Guarded { get; }

        public double this[int index] => index;

        internal abstract double Hidden { get; }

        public abstract void Take(ImmutableArray<double> list, ReadOnlySpan<double> pair, [Dimensionless] double marked);

        public abstract double Give(string text);

        [return: Dimensionless]
        public abstract double GiveMarked();

        public static Bad operator *(Bad left, double scale) => scale > 0 ? left : null!;
    }

    [UnitInName]
    private abstract class BadTrace
    {
        public abstract ImmutableArray<double> TimeSeconds { get; }

        public abstract ImmutableArray<double> Speed { get; }

        public abstract int At(double when);
    }

    [UnitInName]
    private abstract class GoodTrace
    {
        public abstract ImmutableArray<ImmutableArray<double>> CurrentAmperes { get; }

        public abstract double SpeedMetersPerSecond { get; }

        public abstract double AccelerationMetersPerSecondSquared { get; }

        public abstract double VoltSecondsPerMeter { get; }

        public abstract GoodTrace FromNewtonsPerAmpere(double value);

        public abstract int At(double timeSeconds);
    }

    [Dimensionless]
    private abstract class Ratios
    {
        public abstract double Anything { get; }
    }

    private delegate double BadCallback(double x);

    private sealed record Positional(double Size, [property: Dimensionless] double Ratio);
}
