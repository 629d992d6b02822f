using Magrail.Laws;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Laws;

public sealed class FieldLawsTests(ITestOutputHelper output)
{
    private static readonly Worst Worsts = new();

    /// <summary>Boxes of all sizes about the first two stations: in the gap, through magnets, around everything.</summary>
    [LawProperty(10)]
    public void NoFluxLeavesABox(Track track, int seed)
    {
        Assert.NotNull(track);
        var random = new Random(seed);
        double pitch = track.Pitch.Meters;
        (Length X, Length Y, Length Z) low = Place(random, -pitch, 0.6 * pitch, -0.02, -0.001, -0.02, -0.001);
        (Length X, Length Y, Length Z) high = Place(random, 0.7 * pitch, 2 * pitch, 0.001, 0.02, 0.001, 0.02);
        Hold(nameof(NoFluxLeavesABox), FieldLaws.NoFluxLeavesABox(track, low, high));
    }

    /// <summary>Rectangles between the faces of the magnets, askew, and rectangles above the track.</summary>
    [LawProperty]
    public void NoCirculationInAir(Track track, int seed)
    {
        Assert.NotNull(track);
        var random = new Random(seed);
        double inside = 0.35 * track.Gap!.Value.Meters;
        double length = track.Span.Meters;
        (Length X, Length Y, Length Z) corner = Place(random, 0, 0.5 * length, -inside, 0, -0.02, 0.02);
        (Length X, Length Y, Length Z) first = Place(random, 0.005, 0.5 * length, 0, 0.5 * inside, -0.01, 0.01);
        (Length X, Length Y, Length Z) second = Place(random, -0.005, 0.005, 0, 0.5 * inside, 0.002, 0.02);
        Hold("curl, gap", FieldLaws.NoCirculationInAir(track, corner, first, second));
        double above = (0.5 * track.Stations[0].Magnets[0].Body.SizeUp.Meters) + 0.002;
        corner = Place(random, 0, 0.5 * length, -0.02, 0.02, above, above + 0.02);
        first = Place(random, 0.005, 0.5 * length, -0.02, 0.02, 0, 0.01);
        second = Place(random, -0.005, 0.005, 0.002, 0.02, 0, 0.02);
        Hold("curl, above", FieldLaws.NoCirculationInAir(track, corner, first, second));
    }

    [LawProperty]
    public void FarAwayAMagnetIsItsDipole(Track track, int seed)
    {
        Assert.NotNull(track);
        var random = new Random(seed);
        double far = (track.Span.Meters + 0.2) * Math.Pow(10, 1.2 * random.NextDouble());
        double turn = 2 * Math.PI * random.NextDouble();
        double up = (2 * random.NextDouble()) - 1;
        double level = Math.Sqrt(1 - (up * up));
        Hold(
            nameof(FarAwayAMagnetIsItsDipole),
            FieldLaws.FarAwayAMagnetIsItsDipole(
                track,
                Length.FromMeters((0.5 * track.Span.Meters) + (far * level * Math.Cos(turn))),
                Length.FromMeters(far * level * Math.Sin(turn)),
                Length.FromMeters(far * up)));
    }

    private static (Length X, Length Y, Length Z) Place(Random random, double x0, double x1, double y0, double y1, double z0, double z1)
        => (Length.FromMeters(x0 + ((x1 - x0) * random.NextDouble())),
            Length.FromMeters(y0 + ((y1 - y0) * random.NextDouble())),
            Length.FromMeters(z0 + ((z1 - z0) * random.NextDouble())));

    private void Hold(string name, LawCheck check)
    {
        double worst = Worsts.Note(name, check.Deviation / check.Allowed);
        output.WriteLine($"{check.Message} (worst so far {worst:G3} of the allowance)");
        check.EnsureHolds();
    }
}
