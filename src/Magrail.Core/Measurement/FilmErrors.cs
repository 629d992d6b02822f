using UnitsNet;

namespace Magrail;

/// <summary>What is not known exactly of a filmed run beside the scatter of its readings. All values are standard uncertainties (one sigma).</summary>
/// <remarks>
/// A wrong scale or frame rate is the same in every frame: no smoothing takes it out, and the frames themselves do not show it. With relative
/// scale error ε and relative frame-time error τ a speed is off by ε − τ, an acceleration by ε − 2 τ, of itself.
/// </remarks>
public sealed record FilmErrors
{
    /// <summary>Scale and frame rate taken as exact, readings judged by their scatter.</summary>
    public static FilmErrors None { get; } = new();

    /// <summary>Relative uncertainty of the scale (pixels or divisions to length), 0 to 0.5; zero by default.</summary>
    /// <remarks>A ruler of 300 mm read to 0.5 mm at either end makes some 0.2 %; a ruler nearer the camera than the sled is worse.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Ratio Scale
    {
        get;
        init => field = Require.InRange(value, Ratio.Zero, Ratio.FromDecimalFractions(0.5), "beyond one half nothing was measured", nameof(Scale));
    } = Ratio.Zero;

    /// <summary>Relative uncertainty of the time between frames, 0 to 0.5; zero by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Ratio FrameTime
    {
        get;
        init => field = Require.InRange(value, Ratio.Zero, Ratio.FromDecimalFractions(0.5), "beyond one half nothing was measured", nameof(FrameTime));
    } = Ratio.Zero;

    /// <summary>Uncertainty of a single reading of position, above zero; null (the default) where the scatter of the readings tells it.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero, below, or to a value that is not finite.</exception>
    public Length? Reading
    {
        get;
        init => field = value is Length one ? Require.Positive(one, "a reading is never exact", nameof(Reading)) : null;
    }

    /// <summary>The errors in words.</summary>
    public override string ToString()
        => $"scale ± {Show.Number(Scale.Percent)} %, frame time ± {Show.Number(FrameTime.Percent)} %, reading {(Reading is Length reading ? $"± {Show.Quantity(reading)}" : "as the film shows")}";
}
