using System.Text;
using Magrail.Files;
using Magrail.NotebookRunner;
using UnitsNet;

namespace Magrail.Endurance;

/// <summary>A reader of files: whole files of its format, how it reads, and what it may say to bad ones.</summary>
/// <param name="Name">What it reads.</param>
/// <param name="Samples">Whole files.</param>
/// <param name="Read">Reads bytes; the folder is for readers that need a file.</param>
/// <param name="MaySay">Whether an exception is one that its documentation names.</param>
internal sealed record FileReader(string Name, IReadOnlyList<byte[]> Samples, Action<byte[], string> Read, Func<Exception, bool> MaySay)
{
    /// <summary>All there are.</summary>
    public static IReadOnlyList<FileReader> All { get; } =
    [
        new("filmed run, CSV", [.. Endurance.Samples.Films()], (bytes, _) => RunCsv.Read(Text(bytes), bytes.Length % 2 == 0 ? null : Camera), fault => fault is RunCsvException),
        new("study, CSV", [.. Endurance.Samples.StudiesAsCsv()], (bytes, _) => StudyCsv.Read(Text(bytes)), fault => fault is StudyFileException),
        new("study, Parquet", [.. Endurance.Samples.StudiesAsParquet()], (bytes, _) => StudyParquet.ReadAsync(new MemoryStream(bytes)).GetAwaiter().GetResult(), fault => fault is StudyFileException),
        new("finished points", [.. Endurance.Samples.Journals()], ReadJournal, fault => fault is InvalidDataException),
        new("notebook", [.. Endurance.Samples.Notebooks()], (bytes, _) => Notebook.Parse("a.ipynb", Text(bytes).ReadToEnd()), fault => fault is InvalidDataException),
        new("record of a run", [.. Endurance.Samples.RunRecords()], ReadRecord, _ => false),
    ];

    private static readonly RunCsvOptions Camera = new() { FrameRate = Frequency.FromHertz(240), LengthPerPixel = Length.FromMillimeters(0.8), FrameLimit = 1000 };

    private static readonly Lazy<(Study Study, string Fingerprint)> Study = new(() => (Endurance.Samples.Study(), Endurance.Samples.Study().Run().Fingerprint));

    private static StreamReader Text(byte[] bytes) => new(new MemoryStream(bytes), Encoding.UTF8);

    private static void ReadJournal(byte[] bytes, string folder)
    {
        (Study study, string fingerprint) = Study.Value;
        string path = Path.Combine(folder, "points");

        // Half of them with checksums that fit, or what a line says would hardly ever be looked at.
        File.WriteAllBytes(path, bytes.Length % 2 == 0 ? bytes : Resealed(bytes));
        using StudyJournal journal = StudyJournal.Open(path, fingerprint, study, StudyPart.Whole, null);
        for (int i = 0; i < study.PointCount; i++)
        {
            if (journal.IsFinished(i) && journal.Take(i) is null)
            {
                throw new InvalidOperationException($"point {i} is finished and not there");
            }
        }
    }

    private static byte[] Resealed(byte[] bytes)
    {
        string[] lines = Encoding.UTF8.GetString(bytes).Split('\n');
        return Encoding.UTF8.GetBytes(string.Concat(lines.Where(line => line.Length > 9).Select(line => StudyJournal.Sealed(line[..^9]))));
    }

    private static void ReadRecord(byte[] bytes, string folder)
    {
        string path = Path.Combine(folder, "record");
        File.WriteAllBytes(path, bytes);
        RunRecord.Read(path);
    }
}
