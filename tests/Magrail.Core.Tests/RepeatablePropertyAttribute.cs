using FsCheck.Xunit;

namespace Magrail.Tests;

/// <summary>
/// A property whose cases are the same in every ordinary run, so that a change decides whether it passes and not luck.
/// Setting MAGRAIL_LAW_CASES asks for fresh cases; a failure then prints the seed to put here.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public class RepeatablePropertyAttribute : PropertyAttribute
{
    public RepeatablePropertyAttribute()
    {
        if (Environment.GetEnvironmentVariable("MAGRAIL_LAW_CASES") is null)
        {
            Replay = "20261125,20250701";
        }
    }
}
