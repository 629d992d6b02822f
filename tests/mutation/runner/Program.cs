using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using System.Runtime.Loader;
using Magrail.MutantRunner;
using Xunit.Abstractions;

// Tries the mutants that dotnet-stryker has made, all in a few processes. The tool starts a test host for each, which costs more than the tests of a folder do.
//   reach   BIN LOG PLACE FOLDER STARTS WITHOUT          which test comes by which mutant
//   try     BIN LOG PLACE FOLDER STARTS WITHOUT LANE SECONDS    each mutant that no test so far has caught, with those tests that take no longer and were not yet tried;
//           even numbers in lane 0, the others in lane 1; exits above 0 when it must be started anew
//   again   BIN LOG PLACE FOLDER STARTS WITHOUT NUMBER SECONDS  one mutant, on from the start of the process, with those tests that take no longer
//   tell    BIN LOG PLACE FOLDER                         counts and survivors
string command = args[0], bin = Path.GetFullPath(args[1]), log = args[2], place = Path.GetFullPath(args[3]), folder = args[4];
int lane = command == "try" ? int.Parse(args[7], CultureInfo.InvariantCulture) : 0;
var results = new Results(Path.Combine(place, folder), lane);
if (command == "tell")
{
    results.Tell(Mutant.Of(log, Path.Combine(bin, "Magrail.Core.dll"), folder), Console.Out);
    return 0;
}

string core = Path.Combine(bin, "Magrail.Core.dll");
Switches.Prepare(core);
AssemblyLoadContext.Default.Resolving += (context, name) => File.Exists(Path.Combine(bin, name.Name + ".dll")) ? context.LoadFromAssemblyPath(Path.Combine(bin, name.Name + ".dll")) : null;
AppContext.SetData("APP_CONTEXT_BASE_DIRECTORY", bin + Path.DirectorySeparatorChar);
var switches = new Switches(AssemblyLoadContext.Default.LoadFromAssemblyPath(core));
if (command == "again")
{
    switches.On = int.Parse(args[7], CultureInfo.InvariantCulture);
}

Assembly assembly = AssemblyLoadContext.Default.LoadFromAssemblyPath(Path.Combine(bin, "Magrail.Core.Tests.dll"));
var tests = new Tests(assembly, args[5].Split(','), args[6].Split(',', StringSplitOptions.RemoveEmptyEntries));
switch (command)
{
    case "reach":
        Reach();
        return 0;
    case "again":
        int number = int.Parse(args[7], CultureInfo.InvariantCulture);
        (string verdict, string by) = Verdict(Reaching()[number].Where(test => test.Seconds <= Slowest()), (test, limit) => tests.Run(test, limit));
        results.AddAgain(number, verdict, by);
        break;
    default:
        Try();
        break;
}

// Not by the end of Main: a test that was given up may still be running.
Environment.Exit(0);
return 0;

double Slowest() => double.Parse(args[8], CultureInfo.InvariantCulture);

void Reach()
{
    var lines = new List<(string Name, double Seconds, IEnumerable<int> Mutants)>();
    foreach (ITestCase test in tests.All)
    {
        Array.Clear(switches.Reached);
        var watch = Stopwatch.StartNew();
        TestOutcome outcome = tests.Run(test, TimeSpan.FromMinutes(10));
        if (outcome != TestOutcome.Passed)
        {
            throw new InvalidOperationException($"{test.DisplayName} does not pass without a mutant.");
        }

        double seconds = watch.Elapsed.TotalSeconds;
        if (seconds > 0.1)
        {
            // Much of it may have been the first of its kind: code that was compiled, curves that are kept.
            watch.Restart();
            tests.Run(test, TimeSpan.FromMinutes(10));
            seconds = watch.Elapsed.TotalSeconds;
        }

        lines.Add((tests.NameOf(test), seconds, [.. Enumerable.Range(0, switches.Reached.Length).Where(i => switches.Reached[i] != 0)]));
    }

    results.WriteReach(lines);
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{lines.Count} tests"));
}

Dictionary<int, List<(ITestCase Case, double Seconds)>> Reaching()
{
    Dictionary<string, ITestCase> byName = tests.All.ToDictionary(tests.NameOf);
    var reaching = new Dictionary<int, List<(ITestCase Case, double Seconds)>>();
    foreach ((string name, double seconds, int[] mutants) in results.ReadReach().OrderBy(line => line.Seconds))
    {
        foreach (int mutant in mutants)
        {
            if (!reaching.TryGetValue(mutant, out List<(ITestCase Case, double Seconds)>? list))
            {
                reaching[mutant] = list = [];
            }

            list.Add((byName[name], seconds));
        }
    }

    return reaching;
}

(string Verdict, string By) Verdict(IEnumerable<(ITestCase Case, double Seconds)> reaching, Func<ITestCase, TimeSpan, TestOutcome> run)
{
    foreach ((ITestCase test, double seconds) in reaching)
    {
        TestOutcome outcome = run(test, TimeSpan.FromSeconds(5 + (1.5 * seconds)));    // the tool's own allowance
        if (outcome != TestOutcome.Passed)
        {
            return (outcome == TestOutcome.Failed ? Results.Killed : Results.TimedOut, test.DisplayName);
        }
    }

    return (Results.Survived, "");
}

void Try()
{
    double slowest = Slowest();
    Dictionary<int, List<(ITestCase Case, double Seconds)>> reaching = Reaching();
    bool first = true;
    foreach ((int mutant, double tried) in results.Open(Mutant.Of(log, core, folder).Select(mutant => mutant.Id).Where(id => id % 2 == lane), slowest))
    {
        if (!reaching.TryGetValue(mutant, out List<(ITestCase Case, double Seconds)>? list))
        {
            results.Add(mutant, Results.NotReached, "");
            continue;
        }

        results.Begin(mutant);
        bool clean = true;
        (string verdict, string by) = Verdict(list.Where(test => test.Seconds > tried && test.Seconds <= slowest), (test, limit) =>
        {
            switches.On = mutant;
            TestOutcome outcome = tests.Run(test, limit, () => switches.On = Switches.None);
            if (outcome != TestOutcome.Passed)
            {
                // What the mutant has left in a cache may fail tests without it: then this process has had its day. So it has where the test does not end.
                switches.On = Switches.None;
                clean = tests.Ended && tests.Run(test, limit) == TestOutcome.Passed;
            }

            return outcome;
        });
        if (!clean && !first && verdict == Results.Killed)
        {
            // It may have been another one's cache. In a new process it comes first.
            results.Repeat();
            Environment.Exit(1);
        }

        results.Add(mutant, verdict, verdict == Results.Survived ? args[8] : by);
        if (!clean)
        {
            Environment.Exit(1);
        }

        switches.On = Switches.None;
        first = false;
    }
}
