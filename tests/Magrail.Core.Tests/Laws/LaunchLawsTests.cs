using FsCheck;
using FsCheck.Fluent;
using Magrail.Laws;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Laws;

public sealed class LaunchLawsTests(ITestOutputHelper output)
{
    private static readonly LaunchOptions Options = new() { TimeLimit = Duration.FromSeconds(2) };

    private static readonly Worst Worsts = new();

    [LawProperty]
    public void GeneratedLaunchersAreValid(Launcher launcher) => Assert.Empty(launcher.Validate());

    [LawProperty]
    public void TheLedgerCloses(Launcher launcher) => Hold(nameof(TheLedgerCloses), LaunchLaws.LedgerCloses(launcher.Launch(Options)));

    [LawProperty]
    public void ForceAndBackEmfShareK(Launcher launcher)
        => Hold(nameof(ForceAndBackEmfShareK), LaunchLaws.ForceAndBackEmfShareK(launcher.Launch(Options)));

    [LawProperty(50)]
    public void ReversingEverythingChangesNothing(Launcher launcher)
        => Hold(nameof(ReversingEverythingChangesNothing), LaunchLaws.ReversingTrackAndRailsChangesNothing(launcher, Options));

    [LawProperty(50)]
    public void TurnsOnlyMatchTheSource(Launcher launcher)
        => Hold(nameof(TurnsOnlyMatchTheSource), LaunchLaws.TurnsOnlyMatchTheSource(launcher, 2 + (launcher.Track.StationCount % 2), Options));

    [LawProperty]
    public void KineticEnergyIsPaidFor(Launcher launcher)
        => Hold(nameof(KineticEnergyIsPaidFor), LaunchLaws.KineticEnergyIsPaidFor(launcher.Launch(Options)));

    [LawProperty(50)]
    public void ToleranceBoundsTheError(Launcher launcher)
        => Hold(nameof(ToleranceBoundsTheError), LaunchLaws.ToleranceBoundsTheError(launcher, Options));

    private void Hold(string name, LawCheck check)
    {
        double worst = Worsts.Note(name, check.Deviation);
        output.WriteLine($"{check.Message} (worst so far {worst:G3})");
        check.EnsureHolds();
    }
}
