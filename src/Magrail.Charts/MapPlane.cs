using UnitsNet;

namespace Magrail.Charts;

/// <summary>
/// A plane through the track, and the part of it that is shown. The frame is the track's: x along it, y across the gap,
/// z up.
/// </summary>
public sealed record MapPlane
{
    private MapPlane(SpacePoint origin, SpacePoint first, SpacePoint second, string horizontal, string vertical, string place)
    {
        Origin = origin;
        First = first;
        Second = second;
        HorizontalTitle = horizontal;
        VerticalTitle = vertical;
        Place = place;
    }

    /// <summary>Where the picture begins on the left, on its horizontal axis; null where the magnets decide.</summary>
    public Length? From { get; init; }

    /// <summary>Where the picture ends on the right; null where the magnets decide.</summary>
    public Length? To { get; init; }

    /// <summary>Where the picture begins below, on its vertical axis; null where the magnets decide.</summary>
    public Length? Bottom { get; init; }

    /// <summary>Where the picture ends above; null where the magnets decide.</summary>
    public Length? Top { get; init; }

    internal SpacePoint Origin { get; }

    internal SpacePoint First { get; }

    internal SpacePoint Second { get; }

    internal SpacePoint Normal => First.Cross(Second);

    internal string HorizontalTitle { get; }

    internal string VerticalTitle { get; }

    internal string Place { get; }

    /// <summary>The level plane z = <paramref name="height"/>, seen from above: along the track to the right, across the gap upward.</summary>
    /// <param name="height">z of the plane; zero is the middle of the coil's path.</param>
    /// <returns>The plane.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The height is not finite.</exception>
    public static MapPlane AtHeight(Length height) => new(
        new(0, 0, Require.Finite(height, "a plane has a place").Meters),
        new(1, 0, 0),
        new(0, 1, 0),
        "position along the track",
        "position across the gap",
        $"z = {Show.Number(height.Millimeters)} mm");

    /// <summary>The upright plane y = <paramref name="offset"/> beside the path: along the track to the right, height upward.</summary>
    /// <param name="offset">y of the plane; zero is the middle of the gap.</param>
    /// <returns>The plane.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The offset is not finite.</exception>
    public static MapPlane AtOffset(Length offset) => new(
        new(0, Require.Finite(offset, "a plane has a place").Meters, 0),
        new(1, 0, 0),
        new(0, 0, 1),
        "position along the track",
        "height",
        $"y = {Show.Number(offset.Millimeters)} mm");

    /// <summary>The upright plane x = <paramref name="position"/> across the track: across the gap to the right, height upward.</summary>
    /// <param name="position">x of the plane.</param>
    /// <returns>The plane.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The position is not finite.</exception>
    public static MapPlane AtPosition(Length position) => new(
        new(Require.Finite(position, "a plane has a place").Meters, 0, 0),
        new(0, 1, 0),
        new(0, 0, 1),
        "position across the gap",
        "height",
        $"x = {Show.Number(position.Millimeters)} mm");

    /// <summary>Any plane: through a point, with the direction that the picture shows to the right and one that it shows upward.</summary>
    /// <param name="origin">x, y and z of the point from which both axes of the picture count.</param>
    /// <param name="right">Direction to the right, as steps along x, y and z; its length does not matter.</param>
    /// <param name="up">Direction upward in the picture; only its part at right angles to the first is used.</param>
    /// <returns>The plane.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite.</exception>
    /// <exception cref="ArgumentException">A direction is zero, or both point the same way.</exception>
    public static MapPlane Through(
        (Length X, Length Y, Length Z) origin, (double X, double Y, double Z) right, (double X, double Y, double Z) up)
    {
        SpacePoint from = new(
            Require.Finite(origin.X, "a plane has a place", nameof(origin)).Meters,
            Require.Finite(origin.Y, "a plane has a place", nameof(origin)).Meters,
            Require.Finite(origin.Z, "a plane has a place", nameof(origin)).Meters);
        SpacePoint first = new(right.X, right.Y, right.Z);
        SpacePoint second = new(up.X, up.Y, up.Z);
        if (!double.IsFinite(first.Size) || first.Size == 0 || !double.IsFinite(second.Size) || second.Size == 0)
        {
            throw new ArgumentException($"The directions are {first} and {second}: both must be finite and neither zero.", nameof(right));
        }

        first = (1 / first.Size) * first;
        second = (1 / second.Size) * second;
        second -= second.Dot(first) * first;
        if (second.Size < 1e-6)
        {
            throw new ArgumentException($"The directions {right} and {up} point the same way: two different ones span a plane.", nameof(up));
        }

        return new(
            from,
            first,
            (1 / second.Size) * second,
            $"distance in direction {first}",
            $"distance in direction {(1 / second.Size) * second}",
            $"a plane through {from.InMillimeters}");
    }

    /// <summary>The same plane, with the part of it that is to be shown; null leaves an end to the magnets.</summary>
    /// <param name="from">Left end, on the horizontal axis of the picture.</param>
    /// <param name="to">Right end.</param>
    /// <param name="bottom">Lower end, on the vertical axis of the picture.</param>
    /// <param name="top">Upper end.</param>
    /// <returns>The plane.</returns>
    public MapPlane Within(Length? from = null, Length? to = null, Length? bottom = null, Length? top = null)
        => this with { From = from, To = to, Bottom = bottom, Top = top };

    internal SpacePoint At(double u, double v) => Origin + (u * First) + (v * Second);

    internal (double U, double V) Of(SpacePoint point)
    {
        // Along an axis of the track a place keeps its coordinate, since the origin has none along it.
        SpacePoint d = point - Origin;
        return (d.Dot(First), d.Dot(Second));
    }
}
