using UnitsNet;

namespace Magrail;

/// <summary>Speeds of a computed launch, for laying strips out again by them.</summary>
public static class LaunchSpeeds
{
    /// <summary>The speed of an earlier launch along the track, where the sled first reached each place.</summary>
    /// <param name="result">The launch; also one that was not released, as far as it came.</param>
    /// <param name="coilOffset">How far the coil that the strips are laid out for lies ahead of the sled's mark; zero by default.</param>
    /// <returns>
    /// Speed against the position of the coil's middle. It is what <see cref="StripLead.Growing"/> takes: launch, lay out by the speeds, launch again; two or three
    /// rounds settle.
    /// </returns>
    /// <exception cref="ArgumentNullException">The result is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The offset is not finite, or the run ended before it began.</exception>
    public static ExpectedSpeed SpeedsAlongTrack(this LaunchResult result, Length? coilOffset = null)
    {
        ArgumentNullException.ThrowIfNull(result);
        double offset = Require.Finite(coilOffset ?? Length.Zero, "a coil has a place on the sled", nameof(coilOffset)).Meters;
        List<(Length, Speed)> places = [];
        double farthest = double.NegativeInfinity;
        for (int row = 0; row < result.Trace.PositionMeters.Length; row++)
        {
            double x = result.Trace.PositionMeters[row] + offset;
            double v = result.Trace.SpeedMetersPerSecond[row];
            if (x > farthest && v >= 0)
            {
                places.Add((Length.FromMeters(x), Speed.FromMetersPerSecond(v)));
                farthest = x;
            }
        }

        return ExpectedSpeed.Through(places);
    }
}
