using System.Globalization;
using FsCheck.Xunit;

namespace Magrail.Tests;

/// <summary>
/// A property whose cases are the same in every ordinary run, so that a change decides whether it passes and not luck. MAGRAIL_LAW_CASES asks for fresh cases and says how many; a failure then prints the seed to put here.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public class RepeatablePropertyAttribute : PropertyAttribute
{
    private const int OrdinaryCases = 100;

    /// <summary>Makes a property of so many cases.</summary>
    /// <param name="casesInAHundred">How many cases are tried where MAGRAIL_LAW_CASES is 100 or not set, and in proportion where it is more: fewer where a case is expensive.</param>
    public RepeatablePropertyAttribute(int casesInAHundred = OrdinaryCases)
    {
        CasesInAHundred = casesInAHundred;
        int cases = Asked ?? OrdinaryCases;
        MaxTest = (int)Math.Max(5, (long)cases * casesInAHundred / OrdinaryCases);
        if (Asked is null)
        {
            Replay = "20261125,20250701";
        }
    }

    public int CasesInAHundred { get; }

    private static int? Asked
        => int.TryParse(Environment.GetEnvironmentVariable("MAGRAIL_LAW_CASES"), NumberStyles.None, CultureInfo.InvariantCulture, out int cases) && cases > 0 ? cases : null;
}
