using System.Globalization;
using Magrail.Laws;

namespace Magrail.Tests.Laws;

/// <summary>
/// A property over generated launchers, held against as many cases as MAGRAIL_LAW_CASES says (100 where it is not set),
/// or a part of that where a case is expensive. The seed is printed with a failure.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class LawPropertyAttribute : RepeatablePropertyAttribute
{
    public LawPropertyAttribute(int costOfACase = 1)
    {
        CostOfACase = costOfACase;
        MaxTest = Math.Max(5, Cases / costOfACase);
        Arbitrary = [typeof(LauncherArbitraries)];
        QuietOnSuccess = true;
    }

    public int CostOfACase { get; }

    public static int Cases
        => int.TryParse(Environment.GetEnvironmentVariable("MAGRAIL_LAW_CASES"), NumberStyles.None, CultureInfo.InvariantCulture, out int cases) && cases > 0
            ? cases
            : 100;
}
