using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>Stations of magnets in a row along x, with their places and polarities.</summary>
/// <remarks>x = 0 is the origin of the first station.</remarks>
public sealed record Track
{
    private readonly TrackSi si;

    private Track(ImmutableArray<MagnetStation> stations, ImmutableArray<Length> positions, ImmutableArray<Polarity> polarities, Length pitch)
    {
        Stations = stations;
        Positions = positions;
        Polarities = polarities;
        Pitch = pitch;
        Length? gap = null;
        foreach (MagnetStation station in stations)
        {
            if (station.Gap is { } clear && (gap is null || clear < gap.Value))
            {
                gap = clear;
            }
        }

        Gap = gap;
        si = new TrackSi(
            [.. stations.Select(station => station.ToSi())],
            [.. positions.Select(position => position.Meters)],
            [.. polarities.Select(polarity => polarity == Polarity.Positive ? 1 : -1)]);
    }

    /// <summary>The station at each place, first to last.</summary>
    public ImmutableArray<MagnetStation> Stations { get; }

    /// <summary>x of each station's origin, ascending; the first is zero.</summary>
    public ImmutableArray<Length> Positions { get; }

    /// <summary>The polarity of each station.</summary>
    public ImmutableArray<Polarity> Polarities { get; }

    /// <summary>How many stations there are.</summary>
    public int StationCount => Stations.Length;

    /// <summary>The distance from one station to the next; the mean of it where the distances differ.</summary>
    public Length Pitch { get; }

    /// <summary>The least clear width across the coil's path; null where no magnets face each other.</summary>
    public Length? Gap { get; }

    /// <summary>From the first station's origin to the last one's.</summary>
    public Length Span => Positions[^1] - Positions[0];

    /// <summary>A track of equal facing pairs at one pitch: a flat coil, its axis across the gap, runs between them.</summary>
    /// <param name="magnet">The magnet; each station has one on either side of the gap.</param>
    /// <param name="gap">Clear distance between the faces of a pair, above zero.</param>
    /// <param name="stations">How many stations, one or more.</param>
    /// <param name="pitch">Distance from one station to the next, above the magnet's size along the track.</param>
    /// <param name="polarity">
    /// The polarities in order, repeated from the start where fewer than stations are given; by default positive and
    /// negative in turn.
    /// </param>
    /// <exception cref="ArgumentOutOfRangeException">A length is not above zero, the count is below one, or neighboring magnets would overlap.</exception>
    /// <exception cref="ArgumentException">The list of polarities is empty.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public static Track OfFacingPairs(
        MagnetBody magnet, Length gap, int stations, Length pitch, IReadOnlyList<Polarity>? polarity = null)
    {
        MagnetStation station = MagnetStation.FacingPair(magnet, gap);
        Require.InRange(stations, 1, 1_000_000, "a track has at least one station");
        Length step = Require.Positive(pitch, "stations follow one another along the track");
        if (step < magnet.SizeAlong && stations > 1)
        {
            throw Require.Fault(
                nameof(pitch),
                Show.Quantity(pitch),
                $"{Show.Quantity(magnet.SizeAlong)} or more",
                "the magnets of neighboring stations would overlap");
        }

        return new(
            [.. Enumerable.Repeat(station, stations)],
            [.. Enumerable.Range(0, stations).Select(i => Length.FromMeters(i * step.Meters))],
            PolarityOf(stations, polarity),
            step);
    }

    /// <summary>Where the origin of a station lies.</summary>
    /// <param name="station">Its number, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such station.</exception>
    public Length PositionOf(int station)
        => Positions[Require.InRange(station, 0, StationCount - 1, "the track has no other stations")];

    /// <summary>The flux density B = μ₀H + J of all stations at a point of the track's frame.</summary>
    /// <remarks>Surface and edges as for <see cref="MagnetBody.FluxDensityAt"/>.</remarks>
    /// <param name="x">Along the track from the first station's origin.</param>
    /// <param name="y">Across the gap from the middle of the coil's path.</param>
    /// <param name="z">Upward from the middle of the coil's path.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FluxDensity FluxDensityAt(Length x, Length y, Length z)
        => FluxDensity.FromSi(si.FluxDensity(MagnetBody.Point(x, y, z)));

    /// <summary>Two tracks are equal when they hold equal stations at equal places with equal polarities.</summary>
    public bool Equals(Track? other)
        => other is not null
            && StationCount == other.StationCount
            && Positions.SequenceEqual(other.Positions)
            && Polarities.SequenceEqual(other.Polarities)
            && Stations.SequenceEqual(other.Stations);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(StationCount, Pitch, Stations[0], Polarities[^1]);

    /// <inheritdoc/>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"{StationCount} stations, pitch {Show.Quantity(Pitch)}, first: {Stations[0]}");

    internal TrackSi ToSi() => si;

    /// <summary>The same with remanences at a temperature.</summary>
    internal TrackSi ToSi(Temperature magnets)
    {
        if (Math.Abs(magnets.DegreesCelsius - 20) < 1e-9)
        {
            return si;
        }

        var warm = new Dictionary<StationSi, StationSi>();
        var stations = new StationSi[StationCount];
        for (int i = 0; i < stations.Length; i++)
        {
            StationSi cold = Stations[i].ToSi();
            if (!warm.TryGetValue(cold, out StationSi? found))
            {
                warm[cold] = found = Stations[i].ToSi(magnets);
            }

            stations[i] = found;
        }

        return si with { Stations = stations };
    }

    private static ImmutableArray<Polarity> PolarityOf(int stations, IReadOnlyList<Polarity>? given)
    {
        if (given is null)
        {
            return [.. Enumerable.Range(0, stations).Select(i => i % 2 == 0 ? Polarity.Positive : Polarity.Negative)];
        }

        if (given.Count == 0)
        {
            throw new ArgumentException("polarity is empty; it must name at least one polarity: each station stands one way or the other.", nameof(given));
        }

        return [.. Enumerable.Range(0, stations).Select(i => Require.Defined(given[i % given.Count], "a station stands one way or the other"))];
    }
}
