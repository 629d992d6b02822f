using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The ground to be kept clear of people for an unpowered payload: the farthest that it flies with everything at its worst, plus a margin on
/// all sides.
/// </summary>
/// <remarks>
/// Ahead: the longest flight over the speed's upper error, the elevations within their error, and a tailwind as strong as the wind may be.
/// Aside: that flight turned by the aiming error, and drifted by the same wind blowing across. Behind: what the wind blows back. The margin
/// is to cover bounce, slide and rolling, parts that break off, and a sled that leaves its track. This is an estimate for planning and no
/// substitute for a range safety officer, the rules of the place and common sense. A payload with wings may fly anywhere.
/// </remarks>
public sealed class ClearZone
{
    private const int Elevations = 20;

    private ClearZone(Length ahead, Length behind, Length halfWidth, PayloadFlight farthest)
    {
        Ahead = ahead;
        Behind = behind;
        HalfWidth = halfWidth;
        Farthest = farthest;
    }

    /// <summary>The zone for a launch.</summary>
    /// <param name="mass">Mass of the payload, above zero.</param>
    /// <param name="dragArea">Least drag area that it may have, zero or above; zero: as in vacuum. It says how far ahead it may fly.</param>
    /// <param name="speed">Speed at release, above zero.</param>
    /// <param name="elevation">Angle of the track above the horizontal, 0° to 90°.</param>
    /// <param name="height">Height of the release above the ground, zero or above.</param>
    /// <param name="margin">Length added on all sides, zero or above.</param>
    /// <param name="speedError">How much faster it may leave, as a part of the speed, 0 to 1; a tenth by default.</param>
    /// <param name="elevationError">How far the elevation may be off, 0° to 90°; 5° by default. 90° is any direction: the safe choice for what may tumble off.</param>
    /// <param name="aimError">How far aside it may leave, 0° to below 90°; 5° by default.</param>
    /// <param name="wind">The strongest wind, from any side, zero or above; none by default.</param>
    /// <param name="airDensity">Density of the air; that of the standard atmosphere at sea level by default.</param>
    /// <param name="greatestDragArea">Greatest drag area that it may have, no less than the least; the least by default. It says how far a wind may carry it, and must be above zero where there is one.</param>
    /// <returns>The zone.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite, or there is a wind and nothing that it could push on.</exception>
    public static ClearZone Of(
        Mass mass,
        Area dragArea,
        Speed speed,
        Angle elevation,
        Length height,
        Length margin,
        [Dimensionless] double speedError = 0.1,
        Angle? elevationError = null,
        Angle? aimError = null,
        Speed? wind = null,
        Density? airDensity = null,
        Area? greatestDragArea = null)
    {
        double v = Require.Positive(speed, "what does not move needs no zone").MetersPerSecond;
        double nominal = Require.InRange(elevation, Angle.Zero, Angle.FromDegrees(90), "a track points ahead").Degrees;
        double added = Require.NotNegative(margin, "a margin is added").Meters;
        Require.InRange(speedError, 0, 1, "an error as large as the speed is none that a zone covers");
        double spread = Require.InRange(elevationError ?? Angle.FromDegrees(5), Angle.Zero, Angle.FromDegrees(90), "any direction is 90°", nameof(elevationError)).Degrees;
        double aim = Require.InRange(aimError ?? Angle.FromDegrees(5), Angle.Zero, Angle.FromDegrees(89), "a track points ahead", nameof(aimError)).Radians;
        Speed strongest = Require.NotNegative(wind ?? Speed.Zero, "wind has a strength", nameof(wind));
        Area most = greatestDragArea ?? dragArea;
        if (!(most >= dragArea && double.IsFinite(most.SquareMeters)))
        {
            throw Require.Fault(nameof(greatestDragArea), Show.Quantity(most), $"no less than dragArea, {Show.Quantity(dragArea)}", "the greatest is at least as large as the least");
        }

        if (strongest > Speed.Zero && !(most > Area.Zero))
        {
            throw Require.Fault(nameof(wind), Show.Quantity(strongest), "none where there is no drag area", "it has nothing to push on and would not be counted; give greatestDragArea");
        }

        var fastest = Speed.FromMetersPerSecond(v * (1 + speedError));

        double low = Math.Max(-90, nominal - spread);
        double high = Math.Min(90, nominal + spread);
        PayloadFlight? farthest = null;
        double aside = 0;
        double behind = 0;
        for (int k = 0; k <= Elevations; k++)
        {
            var angle = Angle.FromDegrees(low + ((high - low) * k / Elevations));
            PayloadFlight with = Farther(Ahead(dragArea), Ahead(most));
            PayloadFlight across = PayloadFlight.Of(mass, most, fastest, angle, height, crosswind: strongest, airDensity: airDensity);
            PayloadFlight against = PayloadFlight.Of(mass, most, Speed.FromMetersPerSecond(v * (1 - speedError)), angle, height, strongest, airDensity: airDensity);
            farthest = farthest is null ? with : Farther(farthest, with);
            aside = Math.Max(aside, (with.Range.Meters * Math.Sin(aim)) + across.Drift.Meters);
            behind = Math.Max(behind, -against.Range.Meters);

            PayloadFlight Ahead(Area area) => PayloadFlight.Of(mass, area, fastest, angle, height, -strongest, airDensity: airDensity);
        }

        return new ClearZone(
            Length.FromMeters(Math.Max(0, farthest!.Range.Meters) + added),
            Length.FromMeters(behind + added),
            Length.FromMeters(Math.Max(0, aside) + added),
            farthest);

        static PayloadFlight Farther(PayloadFlight one, PayloadFlight other) => other.Range > one.Range ? other : one;
    }

    /// <summary>How far ahead of the release, margin included.</summary>
    public Length Ahead { get; }

    /// <summary>How far behind the release, margin included.</summary>
    public Length Behind { get; }

    /// <summary>How far to either side of the track's line, margin included.</summary>
    public Length HalfWidth { get; }

    /// <summary>The flight that reaches farthest.</summary>
    public PayloadFlight Farthest { get; }

    /// <summary>The zone in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"keep clear {Show.Quantity(Ahead)} ahead, {Show.Quantity(HalfWidth)} to either side, {Show.Quantity(Behind)} behind";
}
