using Magrail.Endurance;

namespace Magrail.Files.Tests;

/// <summary>The first of the long runs' inputs and kills, so that an ordinary run notices what a long one would; their command is in DEVELOPERS.md.</summary>
[Collection(Alone.Name)]
public sealed class EnduranceTests
{
    public static TheoryData<string> Readers => [.. FileReader.All.Select(reader => reader.Name)];

    public static TheoryData<string> Claims => [.. Directory.EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Damaged")).Select(path => Path.GetFileName(path))];

    /// <summary>Files that were found: footers, heads of pages and Snappy blocks that claim up to a gigabyte. They took that much memory; each is some kilobytes long.</summary>
    [Theory]
    [MemberData(nameof(Claims))]
    public void A_damaged_file_that_claims_gigabytes_is_refused_for_little_memory(string name)
    {
        byte[] bytes = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Damaged", name));
        long before = GC.GetTotalAllocatedBytes();
        Assert.Throws<StudyFileException>(() => StudyParquet.ReadAsync(new MemoryStream(bytes)).GetAwaiter().GetResult());
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 20 << 20);
    }

    /// <summary>Among these inputs are figures that are infinite in a study, which had been an exception of the library of units.</summary>
    [Theory]
    [MemberData(nameof(Readers))]
    public void A_reader_answers_damaged_files_with_what_it_says_it_answers(string name)
    {
        FileReader reader = FileReader.All.Single(one => one.Name == name);
        foreach (byte[] sample in reader.Samples.Take(1))
        {
            string folder = Directory.CreateTempSubdirectory().FullName;
            reader.Read(sample, folder);
            Directory.Delete(folder, recursive: true);
        }

        Hunt.Report report = Hunt.Run(reader, 0, 1500, seed: 1);
        Assert.True(report.Finding is null, $"input {report.Finding?.Number}: {report.Finding?.What}");
        Assert.Equal(1500, report.Inputs);
        Assert.InRange(report.Read, 20, 1500);
    }

    /// <summary>The hunt itself sees what it is for.</summary>
    [Fact]
    public void A_hunt_finds_a_wrong_exception_a_hang_and_a_hunger()
    {
        byte[][] samples = [[1, 2, 3]];
        Assert.Contains("TimeZoneNotFoundException", Finding((_, _) => throw new TimeZoneNotFoundException()), StringComparison.Ordinal);
        Assert.Contains("took more than", Finding((_, _) => Thread.Sleep(Timeout.Infinite)), StringComparison.Ordinal);
        Assert.Contains("allocated", Finding((_, _) => GC.KeepAlive(new byte[100 << 20])), StringComparison.Ordinal);
        Assert.Null(Hunt.Run(new FileReader("good", samples, (_, _) => throw new FormatException(), fault => fault is FormatException), 0, 10, 1).Finding);

        string Finding(Action<byte[], string> read) => Hunt.Run(new FileReader("bad", samples, read, fault => fault is FormatException), 0, 10, 1).Finding!.What;
    }

    [Fact]
    public void A_writer_killed_at_any_moment_leaves_no_half_file()
        => Assert.Empty(Kills.Run(6, typeof(Kills).Assembly.Location));
}
