using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using UnitsNet;

namespace Magrail;

/// <summary>Stations of magnets in a row along x, with their places and polarities.</summary>
/// <remarks>x = 0 is the origin of the first station, unless the stations are placed otherwise.</remarks>
public sealed record Track
{
    private readonly TrackSi si;

    private Track(ImmutableArray<StationPlace> places, Length pitch)
    {
        Stations = [.. places.Select(place => place.Station)];
        Positions = [.. places.Select(place => place.Position)];
        Polarities = [.. places.Select(place => place.Polarity)];
        Pitch = pitch;
        Gap = Stations.Where(station => station.Gap is not null).Select(station => station.Gap!.Value)
            .Select(gap => (Length?)gap).MinBy(gap => gap!.Value.Meters);
        si = new TrackSi(
            [.. Stations.Select(station => station.ToSi())],
            [.. Positions.Select(position => position.Meters)],
            [.. Polarities.Select(polarity => polarity == Polarity.Positive ? 1 : -1)]);
    }

    /// <summary>The station at each place, first to last.</summary>
    public ImmutableArray<MagnetStation> Stations { get; }

    /// <summary>x of each station's origin, ascending.</summary>
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
    /// <param name="pitch">Distance from one station to the next, the magnet's size along the track or more.</param>
    /// <param name="polarity">
    /// The polarities in order, repeated from the start where fewer than stations are given; by default positive and
    /// negative in turn.
    /// </param>
    /// <param name="backIron">Iron plates behind the magnets; none if left out.</param>
    /// <exception cref="ArgumentOutOfRangeException">A length is not above zero, the count is below one, or neighboring magnets would overlap.</exception>
    /// <exception cref="ArgumentException">The list of polarities is empty, or there is iron behind magnets that are not magnetized across the gap.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public static Track OfFacingPairs(
        MagnetBody magnet,
        Length gap,
        int stations,
        Length pitch,
        IReadOnlyList<Polarity>? polarity = null,
        BackIron? backIron = null)
        => OfStations(MagnetStation.FacingPair(magnet, gap, backIron), stations, pitch, polarity);

    /// <summary>A track of equal stations at one pitch.</summary>
    /// <param name="station">The station.</param>
    /// <param name="stations">How many stations, one or more.</param>
    /// <param name="pitch">Distance from one station to the next, so that neighboring magnets do not overlap.</param>
    /// <param name="polarity">As for <see cref="OfFacingPairs"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The pitch is not above zero, the count is below one, or neighboring magnets would overlap.</exception>
    /// <exception cref="ArgumentException">The list of polarities is empty.</exception>
    /// <exception cref="ArgumentNullException">The station is missing.</exception>
    public static Track OfStations(MagnetStation station, int stations, Length pitch, IReadOnlyList<Polarity>? polarity = null)
    {
        ArgumentNullException.ThrowIfNull(station);
        Require.InRange(stations, 1, 1_000_000, "a track has at least one station");
        Length step = Require.Positive(pitch, "stations follow one another along the track");
        ImmutableArray<Polarity> polarities = PolarityOf(stations, polarity);
        if (stations > 1 && Overlap(station, station, step.Meters))
        {
            double size = station.Magnets.Max(magnet => magnet.Along.Meters + (0.5 * magnet.Body.SizeAlong.Meters))
                - station.Magnets.Min(magnet => magnet.Along.Meters - (0.5 * magnet.Body.SizeAlong.Meters));
            throw Require.Fault(
                nameof(pitch),
                Show.Quantity(pitch),
                $"{Show.Quantity(Length.FromMeters(size))} or more",
                "the magnets of neighboring stations would overlap");
        }

        return new(
            [.. Enumerable.Range(0, stations).Select(i => new StationPlace(station, Length.FromMeters(i * step.Meters), polarities[i]))],
            step);
    }

    /// <summary>A track of any stations at any places: mixed kinds, unequal pitches, stations left out.</summary>
    /// <param name="places">The stations with their places, ascending along the track, one or more.</param>
    /// <exception cref="ArgumentException">There is none, they are not in order, magnets of different stations overlap, or iron stands behind some stations only.</exception>
    /// <exception cref="ArgumentNullException">The list or a station is missing.</exception>
    public static Track Of(params IReadOnlyList<StationPlace> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        if (places.Count == 0)
        {
            throw new ArgumentException("places is empty; a track has at least one station.", nameof(places));
        }

        double longest = 0;
        foreach (StationPlace place in places)
        {
            ArgumentNullException.ThrowIfNull(place, nameof(places));
            longest = Math.Max(longest, place.Station.Magnets.Max(magnet => Math.Abs(magnet.Along.Meters) + (0.5 * magnet.Body.SizeAlong.Meters)));
        }

        for (int i = 1; i < places.Count; i++)
        {
            if (places[i].Position.Meters <= places[i - 1].Position.Meters)
            {
                throw new ArgumentException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"station {i} stands at {Show.Quantity(places[i].Position)}, station {i - 1} at {Show.Quantity(places[i - 1].Position)}; places must ascend along the track."),
                    nameof(places));
            }

            if (!Equals(places[i].Station.BackIron, places[0].Station.BackIron) || (places[i].Station.BackIron is not null && !places[i].Station.ToSi().PlateDistance.Equals(places[0].Station.ToSi().PlateDistance)))
            {
                throw new ArgumentException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"station {i} differs from station 0 in back iron or in the gap before it; iron runs behind all stations at one distance or behind none."),
                    nameof(places));
            }

            for (int j = i - 1; j >= 0 && places[i].Position.Meters - places[j].Position.Meters < 2 * longest; j--)
            {
                if (Overlap(places[j].Station, places[i].Station, places[i].Position.Meters - places[j].Position.Meters))
                {
                    throw new ArgumentException(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"stations {j} and {i}, at {Show.Quantity(places[j].Position)} and {Show.Quantity(places[i].Position)}, overlap; two magnets cannot share space."),
                        nameof(places));
                }
            }
        }

        double pitch = places.Count > 1 ? (places[^1].Position.Meters - places[0].Position.Meters) / (places.Count - 1) : 2 * longest;
        return new([.. places], Length.FromMeters(pitch));
    }

    /// <summary>This track with some stations left out; the others keep their places and polarities.</summary>
    /// <param name="stations">The numbers of the stations to leave out, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such station.</exception>
    /// <exception cref="ArgumentException">No station would be left.</exception>
    public Track Without(params ReadOnlySpan<int> stations)
    {
        var left = new HashSet<int>(Enumerable.Range(0, StationCount));
        foreach (int station in stations)
        {
            left.Remove(Require.InRange(station, 0, StationCount - 1, "the track has no other stations"));
        }

        return Of([.. left.Order().Select(i => new StationPlace(Stations[i], Positions[i], Polarities[i]))]);
    }

    /// <summary>This track with other stations at the same places.</summary>
    internal Track WithStations(Func<MagnetStation, MagnetStation> change)
        => new([.. Enumerable.Range(0, StationCount).Select(i => new StationPlace(change(Stations[i]), Positions[i], Polarities[i]))], Pitch);

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

    /// <summary>
    /// An estimate of the greatest flux density in the back iron: the flux that enters a plate between the middle of a station and the
    /// middle between two stations, over the section of the plate. Zero without iron.
    /// </summary>
    /// <remarks>
    /// Half of a magnet's flux goes each way along the plate where polarities alternate. The iron's own reluctance, its ends and leakage
    /// above and below are left out; take the figure as good to a fifth. Past <see cref="BackIron.Saturation"/> the mirror of the
    /// field kernels is no longer one and the true force is less than the computed one.
    /// </remarks>
    public MagneticField FluxDensityInIron()
    {
        if (Stations[0].BackIron is not { } iron)
        {
            return MagneticField.Zero;
        }

        MagnetStation first = Stations[0];
        double height = iron.Height?.Meters ?? Stations.Max(station => station.Magnets[0].Body.SizeUp.Meters);
        double plate = 0.5 * first.ToSi().PlateDistance;
        int middle = StationCount / 2;
        double pitch = StationCount == 1
            ? 2 * first.Magnets[0].Body.SizeAlong.Meters
            : Positions[Math.Min(middle + 1, StationCount - 1)].Meters - Positions[Math.Min(middle, StationCount - 2)].Meters;

        // The normal field at the plate's face, summed from the middle of the station to half-way to the next, all heights.
        GaussNodes nodes = GaussNodes.OfOrder(24);
        double start = Positions[middle].Meters;
        double tall = height + pitch;
        double flux = 0;
        for (int piece = 0; piece < 4; piece++)
        {
            for (int i = 0; i < nodes.Weights.Length; i++)
            {
                double x = start + (0.125 * pitch * (piece + (0.5 * (1 + nodes.Abscissas[i]))));
                for (int half = 0; half < 4; half++)
                {
                    for (int j = 0; j < nodes.Weights.Length; j++)
                    {
                        double z = 0.25 * tall * ((half + (0.5 * (1 + nodes.Abscissas[j]))) - 2);
                        double weight = 0.0625 * pitch * 0.125 * tall * nodes.Weights[i] * nodes.Weights[j];
                        flux += weight * NearbyFluxDensity(new(x, plate * (1 - 1e-9), z)).Y;
                    }
                }
            }
        }

        return MagneticField.FromTeslas(Math.Abs(flux) / (iron.Thickness.Meters * height));
    }

    /// <summary>Whether <see cref="FluxDensityInIron"/> is past the saturation of the back iron: the computed force is then too high.</summary>
    public bool IronIsSaturated => Stations[0].BackIron is { } iron && FluxDensityInIron().Teslas > iron.Saturation.Teslas;

    /// <summary>B of the stations within ten plate distances: before iron, others count for nothing.</summary>
    private Vector3D NearbyFluxDensity(Vector3D point)
    {
        Vector3D sum = default;
        double reach = 10 * Stations[0].ToSi().PlateDistance;
        for (int i = 0; i < StationCount; i++)
        {
            double x = point.X - Positions[i].Meters;
            if (Math.Abs(x) < reach)
            {
                sum += si.Signs[i] * si.Stations[i].FluxDensity(point with { X = x });
            }
        }

        return sum;
    }

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

    private static bool Overlap(MagnetStation a, MagnetStation b, double apart)
    {
        foreach (BodySi body in b.Bodies())
        {
            BodySi moved = body with { Center = body.Center with { X = body.Center.X + apart } };
            foreach (BodySi other in a.Bodies())
            {
                if (BodyOverlap.Between(other, moved))
                {
                    return true;
                }
            }
        }

        return false;
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
