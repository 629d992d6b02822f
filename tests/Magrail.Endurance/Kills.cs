using System.Diagnostics;
using System.Security.Cryptography;
using Magrail.Charts;
using Magrail.Files;

namespace Magrail.Endurance;

/// <summary>Writers of files, killed at any moment: each file is there whole, as it was before, or not at all.</summary>
internal static class Kills
{
    private const string Written = "each file has been written";

    /// <summary>Every file that the library writes at a launch's end, in two forms each, so that one replaces the other.</summary>
    public static IReadOnlyList<(string Name, Action<string> First, Action<string> Second)> Writers()
    {
        Launcher one = Samples.Launcher();
        Launcher two = one with { Payload = new Payload(UnitsNet.Mass.FromGrams(20)) };
        LaunchResult first = one.Launch(), second = two.Launch();
        StudyResult whole = Samples.Study().Run(), part = Samples.Study().Run(new StudyOptions { Part = new StudyPart(2, 3) });
        WorkshopSheet sheet = WorkshopSheet.Of(first), other = WorkshopSheet.Of(second);
        return
        [
            ("report.html", path => first.SaveReport(path), path => second.SaveReport(path)),
            ("chart.svg", path => LaunchCharts.SpeedAgainstPosition(first).SaveSvg(path), path => LaunchCharts.SpeedAgainstPosition(second).SaveSvg(path)),
            ("trace.csv", path => first.Trace.SaveCsv(path), path => second.Trace.SaveCsv(path)),
            ("study.csv", path => StudyCsv.Write(whole, path), path => StudyCsv.Write(part, path)),
            ("study.parquet", path => StudyParquet.Write(whole, path), path => StudyParquet.Write(part, path)),
            ("sheet.html", path => sheet.SaveHtml(path), path => other.SaveHtml(path)),
        ];
    }

    /// <summary>Writes all files again and again, until it is killed.</summary>
    public static void WriteForEver(string folder)
    {
        IReadOnlyList<(string Name, Action<string> First, Action<string> Second)> writers = Writers();
        for (int round = 0; true; round++)
        {
            foreach ((string name, Action<string> first, Action<string> second) in writers)
            {
                // In every other round the file is new, in the others it replaces one.
                string path = Path.Combine(folder, name);
                if (round % 2 == 1)
                {
                    File.Delete(path);
                }

                first(path);
                second(path);
            }

            if (round == 0)
            {
                // However slow the machine is: from here on each file has been written.
                Console.WriteLine(Written);
            }
        }
    }

    /// <summary>Starts a process that writes, kills it, looks at the files; so many times, and on until a kill fell into the writing of a file.</summary>
    /// <param name="times">How many; at most twenty times as many where none falls into a writing.</param>
    /// <param name="program">This program's assembly.</param>
    /// <returns>What was found wrong; none where all is well.</returns>
    public static IReadOnlyList<string> Run(int times, string program)
    {
        var found = new List<string>();
        var random = new Random(1);
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            Dictionary<string, string[]> whole = [];
            foreach ((string name, Action<string> first, Action<string> second) in Writers())
            {
                string path = Path.Combine(folder, name);
                first(path);
                string before = Hash(path);
                second(path);
                whole[name] = [before, Hash(path)];
                File.Delete(path);
            }

            int partly = 0, kills = 0;
            for (; kills < times || (partly == 0 && kills < 20 * times); kills++)
            {
                using Process writer = Process.Start(new ProcessStartInfo("dotnet", [program, "write", folder]) { RedirectStandardOutput = true })!;
                try
                {
                    if (writer.StandardOutput.ReadLine() != Written)
                    {
                        throw new InvalidOperationException("The process that is to write did not write.");
                    }

                    // Half of them at any moment, half as soon as a file is seen to be written.
                    Thread.Sleep(random.Next(400));
                    for (long from = Stopwatch.GetTimestamp(); kills % 2 == 0 && !Directory.EnumerateFiles(folder, "*.part").Any() && Stopwatch.GetElapsedTime(from).TotalSeconds < 10;)
                    {
                        Thread.Yield();
                    }
                }
                finally
                {
                    writer.Kill();
                    writer.WaitForExit();
                }

                // One at most is missing: the one that had been deleted to be written anew.
                if (whole.Keys.Count(name => !File.Exists(Path.Combine(folder, name))) > 1)
                {
                    found.Add($"files are missing after kill {kills}");
                }

                foreach (string path in Directory.EnumerateFiles(folder))
                {
                    string name = Path.GetFileName(path);
                    if (name.EndsWith(".part", StringComparison.Ordinal))
                    {
                        partly++;
                        File.Delete(path);
                    }
                    else if (!whole[name].Contains(Hash(path)))
                    {
                        found.Add($"{name} is half written after kill {kills}");
                    }
                }
            }

            // A hunt that never caught a writer at work has shown nothing.
            if (partly == 0)
            {
                found.Add("no kill fell into the writing of a file");
            }

            Console.WriteLine($"{kills} kills, {partly} of them while a file was being written");
            return found;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Hash(string path) => Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(path)));
}
