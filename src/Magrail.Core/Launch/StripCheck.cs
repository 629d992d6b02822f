using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>How well strips and brushes fit the coils of a launcher, by geometry alone: circuit by circuit, between start and release.</summary>
/// <remarks>
/// It tells a layout that pushes backward from one that pushes forward, and how much of the push that the magnets offer is used by a current that turns round at once. What
/// the inductance costs is for the launch to tell. Two circuits half a pitch apart feed each other's gaps: then <see cref="LongestUnfedWay"/> is zero, and
/// the sled starts anywhere.
/// </remarks>
public sealed class StripCheck
{
    private StripCheck(ImmutableArray<CircuitFit> circuits, Length longestUnfedWay, Length unfedFrom)
    {
        Circuits = circuits;
        LongestUnfedWay = longestUnfedWay;
        UnfedFrom = unfedFrom;
    }

    /// <summary>Each circuit's fit.</summary>
    public ImmutableArray<CircuitFit> Circuits { get; }

    /// <summary>The longest way over which no circuit is fed: a sled at rest there does not start. Zero where some circuit always is.</summary>
    public Length LongestUnfedWay { get; }

    /// <summary>Where the longest such way begins; the start where there is none.</summary>
    public Length UnfedFrom { get; }

    /// <summary>Whether every circuit is pushed forward by every strip that feeds it.</summary>
    public bool Works => Circuits.All(circuit => circuit.Works);

    /// <summary>Checks a launcher's strips.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public static StripCheck Of(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        IReadOnlyList<LauncherFault> faults = launcher.Validate();
        if (faults.Count > 0)
        {
            throw new LauncherDescriptionException(faults);
        }

        LauncherSi si = launcher.ToSi(LaunchOptions.Default);
        (Length unfed, Length from) = LongestUnfed(si);
        return new StripCheck([.. si.Circuits.Select((circuit, k) => FitOf(circuit, k, si.Start, si.Release))], unfed, from);
    }

    /// <summary>The check in words, a line a circuit.</summary>
    public override string ToString()
        => string.Join(
            Environment.NewLine,
            Circuits.Select(circuit => circuit.ToString()).Append(LongestUnfedWay.Meters > 0
                ? $"no circuit is fed over {Show.Quantity(LongestUnfedWay)} from {Show.Quantity(UnfedFrom)} on: the sled does not start there"
                : "some circuit is fed everywhere: the sled starts anywhere"));

    private static CircuitFit FitOf(CircuitSi circuit, int number, double start, double release)
    {
        double fed = 0;
        double backward = 0;
        double used = 0;
        double offered = 0;
        List<Length> wrong = [];
        foreach ((double from, double to, int sense) in Stretches(circuit.Schedule, start, release))
        {
            double pushed = 0;
            int cells = Math.Max(1, (int)Math.Ceiling((to - from) / FinestMeters));
            double width = (to - from) / cells;
            for (int i = 0; i < cells; i++)
            {
                // Midpoints: the curve is smooth, and the figures are for judging by eye.
                double k = circuit.Curve.At(from + ((i + 0.5) * width));
                offered += Math.Abs(k) * width;
                pushed += sense * k * width;
                backward += sense * k < 0 ? width : 0;
            }

            used += pushed;
            fed += sense != 0 ? to - from : 0;
            if (sense != 0 && pushed <= 0)
            {
                wrong.Add(Length.FromMeters(from));
            }
        }

        return new CircuitFit(number, Length.FromMeters(fed), Length.FromMeters(backward), offered > 0 ? used / offered : 0, [.. wrong]);
    }

    private const double FinestMeters = 5e-5;

    private static IEnumerable<(double From, double To, int Sense)> Stretches(DriveSchedule schedule, double start, double release)
    {
        for (int i = 0; i <= schedule.Edges.Length; i++)
        {
            double from = Math.Max(start, i == 0 ? double.NegativeInfinity : schedule.Edges[i - 1]);
            double to = Math.Min(release, i == schedule.Edges.Length ? double.PositiveInfinity : schedule.Edges[i]);
            if (to > from)
            {
                yield return (from, to, schedule.Drives[i] switch { CoilDrive.Forward => 1, CoilDrive.Reverse => -1, _ => 0 });
            }
        }
    }

    private static (Length Way, Length From) LongestUnfed(LauncherSi si)
    {
        // How far the sled is fed without a break up to here, stretch after stretch of any circuit.
        double reached = si.Start;
        double longest = 0;
        double place = si.Start;
        foreach ((double from, double to, int _) in si.Circuits
            .SelectMany(circuit => Stretches(circuit.Schedule, si.Start, si.Release)).Where(stretch => stretch.Sense != 0).OrderBy(stretch => stretch.From)
            .Append((si.Release, si.Release, 0)))
        {
            // Edges that meet to round-off leave no way between them.
            if (from - reached > Math.Max(longest, 1e-9))
            {
                (longest, place) = (from - reached, reached);
            }

            reached = Math.Max(reached, to);
        }

        return (Length.FromMeters(longest), Length.FromMeters(place));
    }
}

/// <summary>How strips and brushes fit one circuit.</summary>
/// <param name="Circuit">Its number.</param>
/// <param name="FedWay">Way over which it is fed.</param>
/// <param name="BackwardWay">The part of that over which a current that turned round at once would push backward.</param>
/// <param name="UsedPush">
/// The push by a current that turns round at once, against that of one which is never off and always right: from −1 over 0 to 1.
/// </param>
/// <param name="WrongStretches">Where fed stretches begin that push backward on the whole; empty for a layout that works.</param>
public sealed record CircuitFit(
    int Circuit,
    Length FedWay,
    Length BackwardWay,
    [property: Sources.Dimensionless] double UsedPush,
    ImmutableArray<Length> WrongStretches)
{
    /// <summary>Whether the circuit is fed, and every stretch that feeds it pushes forward on the whole.</summary>
    public bool Works => FedWay.Meters > 0 && WrongStretches.IsEmpty;

    /// <summary>The fit in words.</summary>
    public override string ToString()
    {
        string head = string.Create(CultureInfo.InvariantCulture, $"circuit {Circuit}: fed over {Show.Quantity(FedWay)}, {Show.Quantity(BackwardWay)} of it backward; {100 * UsedPush:0.#} % of the push used");
        return WrongStretches.IsEmpty ? head : $"{head}; wrong from {string.Join(", ", WrongStretches.Select(place => Show.Quantity(place)))} on";
    }
}
