using System.Globalization;

namespace Magrail.MutantRunner;

/// <summary>What came of each mutant, a line each in files that outlive the process.</summary>
/// <param name="start">How the files' paths start.</param>
/// <param name="lane">The lane that writes.</param>
internal sealed class Results(string start, int lane)
{
    public const string Killed = "Killed", TimedOut = "Timeout", Crashed = "Crash", Survived = "Survived", NotReached = "NoCoverage";

    private const string Begun = "Begun";

    private readonly string reach = start + ".reach", results = $"{start}.results.{lane}", again = start + ".again", repeat = $"{start}.repeat.{lane}";

    public void WriteReach(IEnumerable<(string Name, double Seconds, IEnumerable<int> Mutants)> lines)
        => File.WriteAllLines(reach, lines.Select(line => string.Create(CultureInfo.InvariantCulture, $"{line.Name}\t{line.Seconds:F4}\t{string.Join(',', line.Mutants)}")));

    public IEnumerable<(string Name, double Seconds, int[] Mutants)> ReadReach()
        => File.ReadLines(reach).Select(line => line.Split('\t')).Select(parts => (
            parts[0],
            double.Parse(parts[1], CultureInfo.InvariantCulture),
            parts[2].Split(',', StringSplitOptions.RemoveEmptyEntries).Select(number => int.Parse(number, CultureInfo.InvariantCulture)).ToArray()));

    public void Begin(int mutant) => Add(mutant, Begun, "");

    public void Add(int mutant, string verdict, string by) => File.AppendAllText(results, Line(mutant, verdict, by));

    public void AddAgain(int mutant, string verdict, string by) => File.AppendAllText(again, Line(mutant, verdict, by));

    public void Repeat() => File.WriteAllText(repeat, "");

    /// <summary>
    /// The mutants that no test has caught so far, with the seconds of the slowest that was tried, below those asked for; that one first which is to be repeated. One that ended its
    /// process counts as caught: so it would a test host.
    /// </summary>
    public IReadOnlyList<(int Mutant, double Tried)> Open(IEnumerable<int> mutants, double slowest)
    {
        Dictionary<int, (string Verdict, string By)> read = Read(results);
        Dictionary<int, double> tried = File.Exists(results) ? Tried(File.ReadLines(results)) : [];
        int[] begun = [.. read.Where(pair => pair.Value.Verdict == Begun).Select(pair => pair.Key)];
        bool repeated = File.Exists(repeat);
        File.Delete(repeat);
        if (!repeated)
        {
            foreach (int mutant in begun)
            {
                Add(mutant, Crashed, "");
            }
        }

        return
        [
            .. (repeated ? begun : []).Concat(mutants.Where(mutant => !read.ContainsKey(mutant) || (read[mutant].Verdict == Survived && tried[mutant] < slowest)))
                .Select(mutant => (mutant, tried.GetValueOrDefault(mutant))),
        ];

        static Dictionary<int, double> Tried(IEnumerable<string> lines)
            => lines.Select(line => line.Split('\t')).Where(parts => parts[1] == Survived).GroupBy(parts => int.Parse(parts[0], CultureInfo.InvariantCulture))
                .ToDictionary(same => same.Key, same => same.Max(parts => double.Parse(parts[2], CultureInfo.InvariantCulture)));
    }

    public void Tell(IReadOnlyList<Mutant> mutants, TextWriter to)
    {
        var verdicts = new Dictionary<int, string>();
        foreach ((int mutant, (string verdict, _)) in Read($"{start}.results.0").Concat(Read($"{start}.results.1")).Concat(Read(again)))
        {
            verdicts[mutant] = verdict;
        }

        int Count(string verdict) => mutants.Count(mutant => verdicts.GetValueOrDefault(mutant.Id) == verdict);
        int caught = Count(Killed) + Count(TimedOut) + Count(Crashed), tried = mutants.Count(mutant => verdicts.ContainsKey(mutant.Id));
        to.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{mutants.Count} mutants, {tried} tried: {Count(Killed)} killed, {Count(TimedOut)} too long, {Count(Crashed)} crashed, {Count(Survived)} survived, {Count(NotReached)} not reached; score {100.0 * caught / tried:F1} %"));
        foreach (Mutant mutant in mutants.Where(mutant => verdicts.GetValueOrDefault(mutant.Id) is Survived or NotReached))
        {
            to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{verdicts[mutant.Id],-10} {mutant.Id,5} {mutant.File} {mutant.Method} {mutant.Kind}: {mutant.Original}  →  {mutant.Replacement}"));
        }
    }

    private static string Line(int mutant, string verdict, string by) => string.Create(CultureInfo.InvariantCulture, $"{mutant}\t{verdict}\t{by.ReplaceLineEndings(" ").Replace('\t', ' ')}\n");

    private static Dictionary<int, (string Verdict, string By)> Read(string file)
    {
        var read = new Dictionary<int, (string Verdict, string By)>();
        foreach (string[] parts in File.Exists(file) ? File.ReadLines(file).Select(line => line.Split('\t')) : [])
        {
            read[int.Parse(parts[0], CultureInfo.InvariantCulture)] = (parts[1], parts[2]);
        }

        return read;
    }
}
