using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail.Laws;

/// <summary>The laws of the magnets' field, held against a track, or against any field given as a function of place.</summary>
public static class FieldLaws
{
    // Gauss-Legendre on [-1, 1], five points: positive nodes and weights (closed forms; M. Abramowitz and I. A. Stegun,
    // Handbook of Mathematical Functions, Table 25.4).
    private static readonly double[] Nodes = [-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640];
    private static readonly double[] Weights = [0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891];

    private const int DeepestSplit = 14;
    private const int FirstPieces = 4;

    /// <summary>Law 3, first half: no flux leaves a closed surface, here a box, wherever it lies: around magnets, through them, or in the air.</summary>
    /// <param name="track">The track.</param>
    /// <param name="corner">The corner of least x, y and z.</param>
    /// <param name="opposite">The opposite corner.</param>
    /// <exception cref="ArgumentNullException">The track is null.</exception>
    public static LawCheck NoFluxLeavesABox(Track track, (Length X, Length Y, Length Z) corner, (Length X, Length Y, Length Z) opposite)
    {
        ArgumentNullException.ThrowIfNull(track);
        return NoFluxLeavesABox(track.FluxDensityAt, corner, opposite, Breaks(track));
    }

    /// <summary>Law 3, first half, for a field given as a function of place.</summary>
    /// <param name="field">The flux density at a place.</param>
    /// <param name="corner">The corner of least x, y and z.</param>
    /// <param name="opposite">The opposite corner.</param>
    /// <param name="breaks">Planes x, y, z at which the field may jump; none by default.</param>
    /// <exception cref="ArgumentNullException">The field is null.</exception>
    public static LawCheck NoFluxLeavesABox(
        Func<Length, Length, Length, FluxDensity> field,
        (Length X, Length Y, Length Z) corner,
        (Length X, Length Y, Length Z) opposite,
        FieldBreaks? breaks = null)
    {
        ArgumentNullException.ThrowIfNull(field);
        double[] low = [corner.X.Meters, corner.Y.Meters, corner.Z.Meters];
        double[] high = [opposite.X.Meters, opposite.Y.Meters, opposite.Z.Meters];
        double[][] cuts = Cuts(breaks);
        double net = 0;
        double gross = 0;
        for (int axis = 0; axis < 3; axis++)
        {
            int u = (axis + 1) % 3;
            int w = (axis + 2) % 3;
            foreach (int side in (int[])[-1, 1])
            {
                double level = side < 0 ? low[axis] : high[axis];
                double Normal(double a, double b)
                {
                    double[] place = new double[3];
                    place[axis] = level;
                    place[u] = a;
                    place[w] = b;
                    return Component(field(Length.FromMeters(place[0]), Length.FromMeters(place[1]), Length.FromMeters(place[2])), axis);
                }

                double[] us = Grid(low[u], high[u], cuts[u]);
                double[] ws = Grid(low[w], high[w], cuts[w]);
                double area = (high[u] - low[u]) * (high[w] - low[w]);
                for (int i = 1; i < us.Length; i++)
                {
                    for (int j = 1; j < ws.Length; j++)
                    {
                        var panel = new Panel(us[i - 1], us[i], ws[j - 1], ws[j]);
                        (double flux, double size) = Integrate(Normal, panel, Rule(Normal, panel), area, 0);
                        net += side * flux;
                        gross += size;
                    }
                }
            }
        }

        return new LawCheck(
            "flux out of a closed surface is zero",
            gross == 0 ? 0 : Math.Abs(net) / gross,
            1e-6,
            string.Create(CultureInfo.InvariantCulture, $"net {net:G3} Wb of {gross:G3} Wb through the box"));
    }

    /// <summary>
    /// Law 3, second half: curl B = 0 where nothing flows and nothing is magnetized: the circulation around a rectangle outside
    /// the magnets is zero.
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="corner">A corner of the rectangle.</param>
    /// <param name="first">From it along one side.</param>
    /// <param name="second">From it along the other side.</param>
    /// <exception cref="ArgumentNullException">The track is null.</exception>
    public static LawCheck NoCirculationInAir(
        Track track, (Length X, Length Y, Length Z) corner, (Length X, Length Y, Length Z) first, (Length X, Length Y, Length Z) second)
    {
        ArgumentNullException.ThrowIfNull(track);
        return NoCirculationInAir(track.FluxDensityAt, corner, first, second);
    }

    /// <summary>Law 3, second half, for a field given as a function of place.</summary>
    /// <param name="field">The flux density at a place.</param>
    /// <param name="corner">A corner of the rectangle.</param>
    /// <param name="first">From it along one side.</param>
    /// <param name="second">From it along the other side.</param>
    /// <exception cref="ArgumentNullException">The field is null.</exception>
    public static LawCheck NoCirculationInAir(
        Func<Length, Length, Length, FluxDensity> field,
        (Length X, Length Y, Length Z) corner,
        (Length X, Length Y, Length Z) first,
        (Length X, Length Y, Length Z) second)
    {
        ArgumentNullException.ThrowIfNull(field);
        double[] o = [corner.X.Meters, corner.Y.Meters, corner.Z.Meters];
        double[] a = [first.X.Meters, first.Y.Meters, first.Z.Meters];
        double[] b = [second.X.Meters, second.Y.Meters, second.Z.Meters];
        double[][] corners = [o, Sum(o, a), Sum(Sum(o, a), b), Sum(o, b)];
        double net = 0;
        double gross = 0;
        for (int side = 0; side < 4; side++)
        {
            double[] from = corners[side];
            double[] to = corners[(side + 1) % 4];
            double Tangential(double s)
            {
                FluxDensity density = field(
                    Length.FromMeters(from[0] + (s * (to[0] - from[0]))),
                    Length.FromMeters(from[1] + (s * (to[1] - from[1]))),
                    Length.FromMeters(from[2] + (s * (to[2] - from[2]))));
                double sum = 0;
                for (int axis = 0; axis < 3; axis++)
                {
                    sum += Component(density, axis) * (to[axis] - from[axis]);
                }

                return sum;
            }

            for (int i = 0; i < FirstPieces; i++)
            {
                double low = (double)i / FirstPieces;
                double high = (i + 1.0) / FirstPieces;
                (double part, double size) = IntegrateLine(Tangential, low, high, LineRule(Tangential, low, high), 0);
                net += part;
                gross += size;
            }
        }

        return new LawCheck(
            "curl B is zero in air",
            gross == 0 ? 0 : Math.Abs(net) / gross,
            1e-8,
            string.Create(CultureInfo.InvariantCulture, $"circulation {net:G3} T m of {gross:G3} T m along the loop"));
    }

    /// <summary>
    /// Law 4: far away every magnet is its dipole, m = J V/μ₀ at its middle. What is left falls with (size/distance)².
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="x">Where, along the track.</param>
    /// <param name="y">Where, across.</param>
    /// <param name="z">Where, upward.</param>
    /// <remarks>
    /// Allowed is four times the greatest (half diagonal/distance)², and what round-off leaves of a field that is a difference
    /// of terms the cube of distance over size greater.
    /// </remarks>
    /// <exception cref="ArgumentNullException">The track is null.</exception>
    public static LawCheck FarAwayAMagnetIsItsDipole(Track track, Length x, Length y, Length z)
    {
        ArgumentNullException.ThrowIfNull(track);
        return FarAwayAMagnetIsItsDipole(track.FluxDensityAt, track, x, y, z);
    }

    /// <summary>Law 4 for a field that is said to be a track's.</summary>
    /// <param name="field">The flux density at a place.</param>
    /// <param name="track">The track.</param>
    /// <param name="x">Where, along the track.</param>
    /// <param name="y">Where, across.</param>
    /// <param name="z">Where, upward.</param>
    /// <exception cref="ArgumentNullException">The field or the track is null.</exception>
    public static LawCheck FarAwayAMagnetIsItsDipole(
        Func<Length, Length, Length, FluxDensity> field, Track track, Length x, Length y, Length z)
    {
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(track);
        double[] sum = new double[3];
        double scale = 0;
        double worstPart = 0;
        for (int s = 0; s < track.StationCount; s++)
        {
            foreach (PlacedMagnet placed in track.Stations[s].Magnets)
            {
                MagnetBody body = placed.Body;
                int axis = body.Magnetization switch
                {
                    TrackAxis.Along => 0,
                    TrackAxis.Across => 1,
                    _ => 2,
                };
                int sign = (placed.Polarity == Polarity.Positive ? 1 : -1) * (track.Polarities[s] == Polarity.Positive ? 1 : -1);
                double strength = sign * body.Grade.Remanence.Teslas * body.Volume.CubicMeters / (4 * Math.PI);
                double[] r =
                [
                    x.Meters - track.Positions[s].Meters - placed.Along.Meters,
                    y.Meters - placed.Across.Meters,
                    z.Meters - placed.Up.Meters,
                ];
                double distance = Math.Sqrt((r[0] * r[0]) + (r[1] * r[1]) + (r[2] * r[2]));
                double cube = distance * distance * distance;
                double squares = 0;
                for (int c = 0; c < 3; c++)
                {
                    // B = (3 (m·r) r/r² - m) μ₀/(4π r³).
                    double part = strength * ((3 * r[axis] * r[c] / (distance * distance)) - (c == axis ? 1 : 0)) / cube;
                    sum[c] += part;
                    squares += part * part;
                }

                scale += Math.Sqrt(squares);
                double half = 0.5 * Math.Sqrt(
                    Math.Pow(body.SizeAlong.Meters, 2) + Math.Pow(body.SizeAcross.Meters, 2) + Math.Pow(body.SizeUp.Meters, 2));
                worstPart = Math.Max(worstPart, (4 * Math.Pow(half / distance, 2)) + (1e-14 * Math.Pow(distance / half, 3)));
            }
        }

        FluxDensity found = field(x, y, z);
        double apart = 0;
        for (int c = 0; c < 3; c++)
        {
            apart += Math.Pow(Component(found, c) - sum[c], 2);
        }

        return new LawCheck(
            "far away a magnet is its dipole",
            Math.Sqrt(apart) / scale,
            worstPart,
            string.Create(CultureInfo.InvariantCulture, $"field of the dipoles up to {scale:G3} T at ({x.Meters:G3}, {y.Meters:G3}, {z.Meters:G3}) m"));
    }

    /// <summary>The planes at which the field of a track's magnets may jump: the planes of their faces.</summary>
    /// <param name="track">The track.</param>
    /// <exception cref="ArgumentNullException">The track is null.</exception>
    public static FieldBreaks Breaks(Track track)
    {
        ArgumentNullException.ThrowIfNull(track);
        List<Length> along = [];
        List<Length> across = [];
        List<Length> up = [];
        for (int s = 0; s < track.StationCount; s++)
        {
            foreach (PlacedMagnet placed in track.Stations[s].Magnets)
            {
                foreach (double side in (double[])[-0.5, 0.5])
                {
                    along.Add(track.Positions[s] + placed.Along + (side * placed.Body.SizeAlong));
                    across.Add(placed.Across + (side * placed.Body.SizeAcross));
                    up.Add(placed.Up + (side * placed.Body.SizeUp));
                }
            }
        }

        return new FieldBreaks(along, across, up);
    }

    private static double[][] Cuts(FieldBreaks? breaks)
        => breaks is null
            ? [[], [], []]
            : [[.. breaks.Along.Select(p => p.Meters)], [.. breaks.Across.Select(p => p.Meters)], [.. breaks.Up.Select(p => p.Meters)]];

    private static double[] Grid(double low, double high, double[] cuts)
    {
        List<double> grid = [low];
        foreach (double cut in cuts.Order())
        {
            if (cut > grid[^1] + 1e-9 && cut < high - 1e-9)
            {
                grid.Add(cut);
            }
        }

        grid.Add(high);
        return [.. grid];
    }

    private static (double Flux, double Size) Integrate(Func<double, double, double> normal, Panel panel, (double Flux, double Size) whole, double area, int depth)
    {
        double midU = 0.5 * (panel.LowU + panel.HighU);
        double midW = 0.5 * (panel.LowW + panel.HighW);
        Panel[] quarters =
        [
            new(panel.LowU, midU, panel.LowW, midW),
            new(midU, panel.HighU, panel.LowW, midW),
            new(panel.LowU, midU, midW, panel.HighW),
            new(midU, panel.HighU, midW, panel.HighW),
        ];
        (double Flux, double Size)[] parts = [.. quarters.Select(quarter => Rule(normal, quarter))];
        double flux = parts.Sum(part => part.Flux);

        // Shared out by the panel's part of the face, against a field of the order of a millitesla and more.
        double allowed = 2e-7 * Math.Max(parts.Sum(part => part.Size), 1e-4 * area);
        if (Math.Abs(flux - whole.Flux) <= allowed || depth == DeepestSplit)
        {
            return (flux, parts.Sum(part => part.Size));
        }

        double total = 0;
        double size = 0;
        for (int i = 0; i < 4; i++)
        {
            (double f, double s) = Integrate(normal, quarters[i], parts[i], area, depth + 1);
            total += f;
            size += s;
        }

        return (total, size);
    }

    private static (double Sum, double Size) IntegrateLine(
        Func<double, double> function, double low, double high, (double Sum, double Size) whole, int depth)
    {
        double middle = 0.5 * (low + high);
        (double Sum, double Size) left = LineRule(function, low, middle);
        (double Sum, double Size) right = LineRule(function, middle, high);
        if (Math.Abs(left.Sum + right.Sum - whole.Sum) <= 1e-9 * (left.Size + right.Size) || depth == DeepestSplit)
        {
            return (left.Sum + right.Sum, left.Size + right.Size);
        }

        (double Sum, double Size) a = IntegrateLine(function, low, middle, left, depth + 1);
        (double Sum, double Size) b = IntegrateLine(function, middle, high, right, depth + 1);
        return (a.Sum + b.Sum, a.Size + b.Size);
    }

    private static (double Sum, double Size) LineRule(Func<double, double> function, double low, double high)
    {
        double sum = 0;
        double size = 0;
        double half = 0.5 * (high - low);
        for (int i = 0; i < Nodes.Length; i++)
        {
            double value = Weights[i] * half * function(low + (half * (1 + Nodes[i])));
            sum += value;
            size += Math.Abs(value);
        }

        return (sum, size);
    }

    private static (double Flux, double Size) Rule(Func<double, double, double> function, Panel panel)
    {
        double flux = 0;
        double size = 0;
        double halfU = 0.5 * (panel.HighU - panel.LowU);
        double halfW = 0.5 * (panel.HighW - panel.LowW);
        for (int i = 0; i < Nodes.Length; i++)
        {
            for (int j = 0; j < Nodes.Length; j++)
            {
                double value = Weights[i] * Weights[j] * halfU * halfW
                    * function(panel.LowU + (halfU * (1 + Nodes[i])), panel.LowW + (halfW * (1 + Nodes[j])));
                flux += value;
                size += Math.Abs(value);
            }
        }

        return (flux, size);
    }

    private static double Component(FluxDensity density, int axis) => axis switch
    {
        0 => density.Along.Teslas,
        1 => density.Across.Teslas,
        _ => density.Up.Teslas,
    };

    private static double[] Sum(double[] a, double[] b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

    private readonly record struct Panel(double LowU, double HighU, double LowW, double HighW);
}

/// <summary>Planes at which a field may jump.</summary>
/// <param name="Along">Planes of constant x.</param>
/// <param name="Across">Planes of constant y.</param>
/// <param name="Up">Planes of constant z.</param>
public sealed record FieldBreaks(IReadOnlyList<Length> Along, IReadOnlyList<Length> Across, IReadOnlyList<Length> Up);
