using System.Globalization;
using Magrail.Endurance;

// Long runs. What they find lies in artifacts/endurance.
string command = args.Length > 0 ? args[0] : "";
if (command == "read" && Count(1, 1_000_000) is long inputs && Count(2, 1) is long seed && Count(3, 0) is long first)
{
    bool good = true;
    Console.WriteLine("| reader | inputs | read as whole files | slowest | most memory for one |");
    Console.WriteLine("|---|---|---|---|---|");
    foreach (FileReader reader in FileReader.All.Where(one => args.Length < 5 || one.Name == args[4]))
    {
        Hunt.Report report = Hunt.Run(reader, first, inputs, (int)seed);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {reader.Name} | {report.Inputs} | {report.Read} | {report.Slowest.TotalMilliseconds:F0} ms | {report.MostMemory / 1048576.0:F1} MB |"));
        if (report.Finding is Finding finding)
        {
            good = false;
            string path = Path.Combine("artifacts", "endurance", $"{finding.Reader.Replace(", ", "-", StringComparison.Ordinal).Replace(' ', '-')}-{finding.Number}");
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, finding.Input);
            Console.Error.WriteLine($"{finding.Reader}, input {finding.Number} of seed {seed} ({path}): {finding.What}");
        }
    }

    return good ? 0 : 1;
}

if (command == "kill" && Count(1, 500) is long times)
{
    IReadOnlyList<string> found = Kills.Run((int)times, typeof(Kills).Assembly.Location);
    foreach (string wrong in found)
    {
        Console.Error.WriteLine(wrong);
    }

    return found.Count == 0 ? 0 : 1;
}

if (command == "write" && args.Length == 2)
{
    Kills.WriteForEver(args[1]);
}

Console.Error.WriteLine("read [INPUTS [SEED [FIRST [READER]]]]   gives every reader of files, or one, so many damaged inputs (1000000) of a seed (1) from a number on (0)\nkill [TIMES]                            kills a process that writes files so many times (500)");
return 2;

long? Count(int index, long otherwise)
    => args.Length <= index ? otherwise : long.TryParse(args[index], NumberStyles.None, CultureInfo.InvariantCulture, out long count) ? count : null;
