using System.Globalization;
using System.Text;
using Magrail.Files;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Endurance;

/// <summary>A small launcher and whole files of each format, from which damaged ones are made. All of it is invented.</summary>
internal static class Samples
{
    /// <summary>A launcher of few stations, quick to launch.</summary>
    public static Launcher Launcher()
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        Track track = Track.OfFacingPairs(magnet, 10.Millimeters(), 6, 20.Millimeters());
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2), CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), 180);
        return new Launcher(
            track,
            new Sled(25.Grams(), coil),
            ContactCommutator.For(track, coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters())),
            new BenchSupply(36.Volts()),
            new Payload(40.Grams()));
    }

    /// <summary>A study of it with figures, and with points that cannot be launched.</summary>
    public static Study Study()
    {
        DesignNumber<double> mood = DesignNumber.OfNumber("mood, \"today\"", (one, value) => value > 1 ? throw new InvalidOperationException("bad, \"very\"\nbad; tab\there") : one);
        return new Study(Launcher(), DesignNumber.Turns.Over(100, 180), DesignNumber.Voltage.FromTo(1.Volts(), 40.Volts(), 3), mood.Over(-0.0, 2));
    }

    /// <summary>Filmed runs as programs write them: headings of several kinds, notes, separators, decimal commas, empty fields.</summary>
    public static IEnumerable<byte[]> Films()
    {
        yield return Text("# film 3\ntime [s],position [m]\n" + Rows(i => $"{Dot(0.001 * i)},{Dot(0.002 + (0.0003 * i * i))}\n"));
        yield return Text("sep=;\r\nframe;x (px)\r\n" + Rows(i => $"{i};{Dot(12.5 + (1.25 * i * i)).Replace('.', ',')}\r\n") + "17;;\r\n19;700,9\r\n");
        yield return Text("t/ms\tx/mm\ty/mm\n" + Rows(i => $"{i}\t{2 + (i * i)}\t0\n") + "15\t227\t1\n");
        yield return [0xFF, 0xFE, .. Encoding.Unicode.GetBytes("\"time [µs]\",\"x [in]\"\n" + Rows(i => $"{10 * i},\"{Dot(0.1 * i)}\"\n"))];

        static string Rows(Func<int, string> row) => string.Concat(Enumerable.Range(0, 16).Select(row));
        static string Dot(double value) => value.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>Results of the study as CSV: whole, and a part.</summary>
    public static IEnumerable<byte[]> StudiesAsCsv()
    {
        foreach (StudyResult result in Results())
        {
            using var writer = new StringWriter();
            StudyCsv.Write(result, writer);
            yield return Text(writer.ToString());
        }
    }

    /// <summary>The same as Parquet.</summary>
    public static IEnumerable<byte[]> StudiesAsParquet()
    {
        foreach (StudyResult result in Results())
        {
            using var stream = new MemoryStream();
            StudyParquet.WriteAsync(result, stream).GetAwaiter().GetResult();
            yield return stream.ToArray();
        }
    }

    /// <summary>The file of finished points of the study: whole, and as a kill left it.</summary>
    public static IEnumerable<byte[]> Journals()
    {
        string path = Path.GetTempFileName();
        try
        {
            Study().Run(new StudyOptions { FinishedPoints = path });
            byte[] whole = File.ReadAllBytes(path);
            yield return whole;
            yield return whole[..(whole.Length / 2)];
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>A notebook: lines as a list and as one text, tags, outputs.</summary>
    public static IEnumerable<byte[]> Notebooks()
    {
        yield return Text("""
            {"cells":[{"cell_type":"markdown","metadata":{},"source":["# A title\n","words"]},{"cell_type":"code","execution_count":null,"metadata":{"tags":["slow"]},"outputs":[],"source":"1 + 1"},
            {"cell_type":"raw","metadata":{},"source":[]}],"metadata":{"kernelspec":{"name":".net-csharp"}},"nbformat":4,"nbformat_minor":5}
            """);
    }

    /// <summary>What a cell process writes.</summary>
    public static IEnumerable<byte[]> RunRecords()
    {
        yield return Text("""
            {"what":"begin","cell":1}
            {"what":"output","cell":1,"kind":"display","id":"a","forms":{"text/plain":"2","text/html":"<b>2</b>"}}
            {"what":"output","cell":1,"kind":"display","id":"a","forms":{"text/plain":"3"}}
            {"what":"begin","cell":2}
            {"what":"failed","cell":2,"line":1,"message":"wrong"}
            {"what":"finished","cell":0}
            """);
    }

    private static IEnumerable<StudyResult> Results()
    {
        yield return Study().Run();
        yield return Study().Run(new StudyOptions { Part = new StudyPart(2, 3) });
    }

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);
}
