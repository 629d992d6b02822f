using System.Reflection;
using Xunit.Abstractions;
using Xunit.Sdk;

[assembly: TestFramework("Magrail.Tests.AccuracyFramework", "Magrail.Core.Tests")]

namespace Magrail.Tests;

/// <summary>The usual runner, which at the end of a run has the accuracy table written where that is asked for.</summary>
public sealed class AccuracyFramework(IMessageSink messages) : XunitTestFramework(messages)
{
    protected override ITestFrameworkExecutor CreateExecutor(AssemblyName assemblyName)
        => new Executor(assemblyName, SourceInformationProvider, DiagnosticMessageSink);

    private sealed class Executor(AssemblyName assembly, ISourceInformationProvider sources, IMessageSink messages)
        : XunitTestFrameworkExecutor(assembly, sources, messages)
    {
        protected override async void RunTestCases(
            IEnumerable<IXunitTestCase> testCases, IMessageSink executionMessageSink, ITestFrameworkExecutionOptions executionOptions)
        {
            using var runner = new Runner(TestAssembly, testCases, DiagnosticMessageSink, executionMessageSink, executionOptions);
            await runner.RunAsync();
        }
    }

    private sealed class Runner(
        ITestAssembly assembly, IEnumerable<IXunitTestCase> cases, IMessageSink messages, IMessageSink results, ITestFrameworkExecutionOptions options)
        : XunitTestAssemblyRunner(assembly, cases, messages, results, options)
    {
        protected override async Task BeforeTestAssemblyFinishedAsync()
        {
            await base.BeforeTestAssemblyFinishedAsync();
            Aggregator.Run(AccuracyTable.WriteIfAsked);
        }
    }
}
