using Magrail.Laws;

namespace Magrail.Tests.Laws;

/// <summary>A property over generated launchers.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class LawPropertyAttribute : RepeatablePropertyAttribute
{
    public LawPropertyAttribute(int casesInAHundred = 100)
        : base(casesInAHundred)
    {
        Arbitrary = [typeof(LauncherArbitraries)];
        QuietOnSuccess = true;
    }
}
