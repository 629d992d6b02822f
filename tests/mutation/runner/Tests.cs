using System.Diagnostics;
using System.Reflection;
using Xunit.Abstractions;
using Xunit.Sdk;

namespace Magrail.MutantRunner;

/// <summary>The tests of an assembly, run one by one in this process.</summary>
internal sealed class Tests
{
    private readonly ITestFrameworkExecutor executor;
    private readonly Settings settings = new();
    private readonly Dictionary<ITestCase, string> names = new(ReferenceEqualityComparer.Instance);

    /// <summary>Finds the tests.</summary>
    /// <param name="assembly">The assembly.</param>
    /// <param name="starts">How the full names of the classes start.</param>
    /// <param name="without">Parts of the names of tests that are left out.</param>
    public Tests(Assembly assembly, IReadOnlyList<string> starts, IReadOnlyList<string> without)
    {
        settings.SetValue<bool?>("xunit.execution.DisableParallelization", true);
        settings.SetValue<int?>("xunit.execution.MaxParallelThreads", 1);
        settings.SetValue<bool?>("xunit.execution.SynchronousMessageReporting", true);
        settings.SetValue<bool?>("xunit.discovery.PreEnumerateTheories", true);
        settings.SetValue<bool?>("xunit.discovery.SynchronousMessageReporting", true);
        var framework = new XunitTestFramework(new Listener());
        ITestFrameworkDiscoverer discoverer = framework.GetDiscoverer(Reflector.Wrap(assembly));
        var found = new List<ITestCase>();
        foreach (Type type in assembly.GetTypes().Where(type => !type.IsAbstract && starts.Any(start => (type.FullName ?? "").StartsWith(start, StringComparison.Ordinal))))
        {
            var listener = new Listener();
            discoverer.Find(type.FullName!, false, listener, settings);
            listener.Over.Wait();
            found.AddRange(listener.Found);
        }

        All = [.. found.Where(test => test.SkipReason is null && !without.Any(part => test.DisplayName.Contains(part, StringComparison.Ordinal))).OrderBy(test => test.DisplayName, StringComparer.Ordinal)];
        foreach (IGrouping<string, ITestCase> same in All.GroupBy(test => string.Join(' ', test.DisplayName.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))))
        {
            foreach ((int number, ITestCase test) in same.Index())
            {
                names[test] = number == 0 ? same.Key : $"{same.Key} #{number}";
            }
        }

        executor = framework.GetExecutor(assembly.GetName());
    }

    /// <summary>The tests by name.</summary>
    public IReadOnlyList<ITestCase> All { get; }

    /// <summary>A name that is a test's alone and the same in every process, which the framework's own identity is not for all rows of data.</summary>
    public string NameOf(ITestCase test) => names[test];

    /// <summary>Whether the last test has come to its end, be it too late.</summary>
    public bool Ended { get; private set; }

    /// <summary>Runs a test.</summary>
    /// <param name="test">The test.</param>
    /// <param name="limit">How much processor time it may take.</param>
    /// <param name="release">Ends what may keep it, when the time is over; most then end soon.</param>
    public TestOutcome Run(ITestCase test, TimeSpan limit, Action? release = null)
    {
        var listener = new Listener();

        // On a thread of its own: the call runs the test, and may never come back.
        new Thread(() => executor.RunTests([test], listener, settings)) { IsBackground = true }.Start();

        // Time of the processor, not of the clock: others may want the machine too.
        using var process = Process.GetCurrentProcess();
        TimeSpan before = process.TotalProcessorTime;
        while (!listener.Over.Wait(100))
        {
            process.Refresh();
            if (process.TotalProcessorTime - before > limit)
            {
                release?.Invoke();
                Ended = listener.Over.Wait(TimeSpan.FromSeconds(4));
                return TestOutcome.TooLong;
            }
        }

        Ended = true;
        return listener is { Failed: 0, Ran: > 0 } ? TestOutcome.Passed : TestOutcome.Failed;
    }

    private sealed class Listener : IMessageSink
    {
        public List<ITestCase> Found { get; } = [];

        public ManualResetEventSlim Over { get; } = new();

        public int Ran { get; private set; }

        public int Failed { get; private set; }

        public bool OnMessage(IMessageSinkMessage message)
        {
            switch (message)
            {
                case ITestCaseDiscoveryMessage discovered:
                    Found.Add(discovered.TestCase);
                    break;
                case ITestPassed:
                    Ran++;
                    break;
                case ITestFailed:
                    Ran++;
                    Failed++;
                    break;
                case IErrorMessage:
                    Failed++;
                    break;
                case IDiscoveryCompleteMessage or ITestAssemblyFinished:
                    Over.Set();
                    break;
            }

            return true;
        }
    }

    private sealed class Settings : ITestFrameworkDiscoveryOptions, ITestFrameworkExecutionOptions
    {
        private readonly Dictionary<string, object?> values = [];

        public TValue GetValue<TValue>(string name) => values.TryGetValue(name, out object? value) ? (TValue)value! : default!;

        public void SetValue<TValue>(string name, TValue value) => values[name] = value;
    }
}

/// <summary>How a test ended.</summary>
internal enum TestOutcome
{
    /// <summary>It passed.</summary>
    Passed,

    /// <summary>It failed.</summary>
    Failed,

    /// <summary>It was still running when its time was over.</summary>
    TooLong,
}
