using System.Collections;
using System.Linq.Expressions;
using System.Reflection;
using System.Runtime.CompilerServices;
using Magrail.Sources;
using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Rules;

/// <summary>
/// Each public constructor and method of Core refuses null where its parameter does not allow it, by an <see cref="ArgumentNullException"/> that names the parameter. The
/// members are found by reflection and called with one null among parts that fit, so that a new one is held to it without anybody's thinking of it.
/// </summary>
public sealed class NullRules
{
    private static readonly Dictionary<Type, object> Known = new()
    {
        [typeof(string)] = "a",
        [typeof(Track)] = LaunchBench.TrackOf(2),
        [typeof(Coil)] = LaunchBench.Coil,
        [typeof(MagnetBody)] = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42),
        [typeof(RingMagnet)] = new RingMagnet(60.Millimeters(), 50.Millimeters(), 8.Millimeters(), MagnetGrade.N42),
        [typeof(MagnetStation)] = LaunchBench.TrackOf(2).Stations[0],
        [typeof(Brush)] = new Brush(3.Millimeters()),
        [typeof(StripLayout)] = StripLayout.OfDwell(0.8),
        [typeof(ContactStrip)] = new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus),
        [typeof(ExpectedSpeed)] = ExpectedSpeed.Accelerated(8.MetersPerSecond(), 0.Millimeters(), 100.Millimeters()),
        [typeof(ContactCommutator)] = LaunchBench.Whole(2).Contacts,
        [typeof(PowerSource)] = LaunchBench.Whole(2).Source,
        [typeof(Sled)] = LaunchBench.Whole(2).Sled,
        [typeof(Launcher)] = LaunchBench.Whole(2),
        [typeof(LaunchResult)] = LaunchBench.Whole(2).Launch(),
        [typeof(Length)] = 3.Millimeters(),
        [typeof(IQuantity)] = 3.Millimeters(),
    };

    // What reflection alone cannot call: types that only a launch, a film or a study makes.
    private const int Least = 120;

    /// <summary>The types with such members, by name.</summary>
    public static TheoryData<string> Types =>
    [
        .. typeof(PhysicalConstants).Assembly.GetExportedTypes().Where(type => !type.IsGenericTypeDefinition && Members(type).Any(member => Required(member).Length > 0)).Select(type => type.FullName!),
    ];

    [Theory]
    [MemberData(nameof(Types))]
    public void Null_is_refused_by_name(string type)
    {
        List<string> faults = [];
        foreach (MethodBase member in Members(typeof(PhysicalConstants).Assembly.GetType(type)!))
        {
            Try(member, faults);
        }

        Faults.None(faults);
    }

    [Fact]
    public void Most_parameters_are_tried()
    {
        Type[] types = [.. typeof(PhysicalConstants).Assembly.GetExportedTypes().Where(type => !type.IsGenericTypeDefinition)];
        Assert.True(types.SelectMany(Members).Where(member => Call(member) is not null).Sum(member => Required(member).Length) >= Least);
    }

    [Fact]
    public void The_rule_can_fail()
    {
        List<string> faults = [];
        int tried = Members(typeof(Bad)).Sum(member => Try(member, faults));
        Assert.Equal(3, tried);
        Assert.Equal(["Bad.Careless(text) took null", "Bad.Misnamed(text) threw ArgumentNullException of 'words'"], faults.Order());
    }

    private static IEnumerable<MethodBase> Members(Type type)
    {
        const BindingFlags Declared = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        if (type.IsEnum || typeof(Delegate).IsAssignableFrom(type) || typeof(Exception).IsAssignableFrom(type) || typeof(Attribute).IsAssignableFrom(type))
        {
            return [];
        }

        return type.GetConstructors(Declared).Cast<MethodBase>()
            .Concat(type.GetMethods(Declared).Where(method => !method.IsSpecialName && !method.IsAbstract && !method.ContainsGenericParameters && method.Name is not ("Equals" or "Deconstruct")))
            .Where(member => !member.IsDefined(typeof(CompilerGeneratedAttribute)));
    }

    /// <summary>The parameters that must not be null.</summary>
    private static ParameterInfo[] Required(MethodBase member)
    {
        ParameterInfo[] parameters = member.GetParameters();

        // Records of one line hold what they are given; who makes them checks.
        if (member is ConstructorInfo && member.DeclaringType!.GetMethod("Deconstruct") is not null && parameters.All(parameter => member.DeclaringType.GetProperty(parameter.Name!)?.SetMethod is not null))
        {
            return [];
        }

        var nullability = new NullabilityInfoContext();
        return [.. parameters.Where(parameter => !parameter.ParameterType.IsValueType && !parameter.ParameterType.IsByRef && nullability.Create(parameter).WriteState == NullabilityState.NotNull)];
    }

    /// <summary>An instance and arguments with which a member can be called; null where some are not at hand.</summary>
    private static (object? Instance, object?[] Arguments)? Call(MethodBase member)
    {
        ParameterInfo[] required = Required(member), parameters = member.GetParameters();
        object?[] arguments = [.. parameters.Select(parameter => parameter.HasDefaultValue && !required.Contains(parameter) ? parameter.DefaultValue : Sample(parameter.ParameterType, 0))];
        object? instance = member.IsStatic || member is ConstructorInfo ? null : Sample(member.DeclaringType!, 0);
        bool lacks = (member is MethodInfo { IsStatic: false } && instance is null)
            || parameters.Zip(arguments).Any(pair => pair.Second is null && !pair.First.HasDefaultValue && !IsNullable(pair.First));
        return lacks ? null : (instance, arguments);
    }

    /// <summary>Calls a member once for each parameter that must not be null; returns how many.</summary>
    private static int Try(MethodBase member, List<string> faults)
    {
        ParameterInfo[] required = Required(member);
        if (required.Length == 0 || Call(member) is not { } call)
        {
            return 0;
        }

        foreach (ParameterInfo parameter in required)
        {
            object?[] lacking = [.. call.Arguments];
            lacking[parameter.Position] = null;
            string name = $"{member.DeclaringType!.Name}{(member is ConstructorInfo ? "" : "." + member.Name)}({parameter.Name})";
            try
            {
                object? result = member is ConstructorInfo constructor ? constructor.Invoke(lacking) : member.Invoke(call.Instance, lacking);
                if (result is IEnumerable sequence)
                {
                    // An iterator checks when it is gone through.
                    _ = sequence.GetEnumerator().MoveNext();
                }

                faults.Add($"{name} took null");
            }
            catch (Exception wrapped) when (wrapped is TargetInvocationException or ArgumentNullException)
            {
                Exception error = wrapped.InnerException ?? wrapped;
                if (error is not ArgumentNullException refused)
                {
                    faults.Add($"{name} threw {error.GetType().Name}: {error.Message}");
                }
                else if (refused.ParamName?.Split('.')[0] != parameter.Name)
                {
                    faults.Add($"{name} threw ArgumentNullException of '{refused.ParamName}'");
                }
            }
        }

        return required.Length;
    }

    private static bool IsNullable(ParameterInfo parameter)
        => Nullable.GetUnderlyingType(parameter.ParameterType) is not null || (!parameter.ParameterType.IsValueType && new NullabilityInfoContext().Create(parameter).WriteState == NullabilityState.Nullable);

    /// <summary>A value of a type; null where none is at hand.</summary>
    private static object? Sample(Type type, int depth)
    {
        if (Known.TryGetValue(type, out object? known))
        {
            return known;
        }

        if (Nullable.GetUnderlyingType(type) is not null || type.IsByRefLike || depth > 4)
        {
            return null;
        }

        if (type.IsEnum)
        {
            return Enum.GetValues(type).GetValue(0);
        }

        if (type.IsValueType && typeof(IQuantity).IsAssignableFrom(type))
        {
            return Quantity.From(1, ((IQuantity)Activator.CreateInstance(type)!).QuantityInfo.BaseUnitInfo.Value);
        }

        if (type.IsPrimitive)
        {
            return Convert.ChangeType(1, type, System.Globalization.CultureInfo.InvariantCulture);
        }

        if (typeof(Delegate).IsAssignableFrom(type))
        {
            MethodInfo invoke = type.GetMethod("Invoke")!;
            return invoke.GetParameters().Any(parameter => parameter.ParameterType.IsByRefLike)
                ? null
                : Expression.Lambda(type, Expression.Default(invoke.ReturnType), invoke.GetParameters().Select(parameter => Expression.Parameter(parameter.ParameterType))).Compile();
        }

        Type? element = type.IsArray ? type.GetElementType() : type.IsGenericType && type.GetGenericArguments() is [Type only] && type.IsAssignableFrom(only.MakeArrayType()) ? only : null;
        if (element is not null)
        {
            if (element.IsGenericType || Sample(element, depth + 1) is not object item)
            {
                return null;
            }

            Array array = Array.CreateInstance(element, 1);
            array.SetValue(item, 0);
            return array;
        }

        return type.Assembly == typeof(PhysicalConstants).Assembly && !type.IsGenericType ? Made(type, depth) : null;
    }

    private static object? Made(Type type, int depth)
    {
        if (type.GetProperties(BindingFlags.Public | BindingFlags.Static).FirstOrDefault(property => type.IsAssignableFrom(property.PropertyType))?.GetValue(null) is object one)
        {
            return Known[type] = one;
        }

        IEnumerable<MethodBase> makers = type.GetConstructors().Cast<MethodBase>()
            .Concat(type.GetMethods(BindingFlags.Public | BindingFlags.Static).Where(method => type.IsAssignableFrom(method.ReturnType) && !method.IsSpecialName && !method.ContainsGenericParameters));
        foreach (MethodBase maker in makers.Where(maker => !maker.GetParameters().Any(parameter => parameter.ParameterType.IsByRefLike || parameter.ParameterType.IsByRef)))
        {
            try
            {
                object?[] arguments = [.. maker.GetParameters().Select(parameter => parameter.HasDefaultValue ? parameter.DefaultValue : Sample(parameter.ParameterType, depth + 1))];
                if ((maker is ConstructorInfo constructor ? constructor.Invoke(arguments) : maker.Invoke(null, arguments)) is object made)
                {
                    return Known[type] = made;
                }
            }
            catch (Exception error) when (error is TargetInvocationException or ArgumentException)
            {
                // These parts do not go together: another maker may take them.
            }
        }

        return null;
    }

    private static class Bad
    {
        public static int Careful(string words)
        {
            ArgumentNullException.ThrowIfNull(words);
            return words.Length;
        }

        public static string Careless(string text) => "x" + text;

        public static int Misnamed(string text) => Careful(text);
    }
}
