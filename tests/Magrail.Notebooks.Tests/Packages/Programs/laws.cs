// For a fresh project with the package Magrail.Laws: a law held against designs from the generators, and one that is broken on purpose.
using FsCheck;
using FsCheck.Fluent;
using Magrail;
using Magrail.Laws;

int launched = 0;
Check.One(Config.QuickThrowOnFailure.WithMaxTest(5), Prop.ForAll(LauncherArbitraries.Launchers(), (Launcher launcher) =>
{
    launched++;
    LaunchLaws.LedgerCloses(launcher.Launch()).EnsureHolds();
}));

string found = "nothing";
try
{
    Check.One(Config.QuickThrowOnFailure.WithMaxTest(5), Prop.ForAll(LauncherArbitraries.Launchers(), (Launcher launcher) => launcher.Payload.Mass.Kilograms < 0));
}
catch (Exception failure) when (failure.Message.Contains("Falsifiable", StringComparison.Ordinal))
{
    found = "a counterexample";
}

Console.WriteLine($"the ledger closed in {launched} launches; of a law that is wrong FsCheck found {found}");
