using Magrail.Sources;

namespace Magrail;

/// <summary>How a calibration is computed, and when a cause counts as found.</summary>
public sealed record CalibrationOptions
{
    /// <summary>The defaults.</summary>
    public static CalibrationOptions Default { get; } = new();

    /// <summary>How accurately launches are computed; tolerance 1e-9 by default, so that slopes are not lost in it.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public LaunchOptions Launch { get; init => field = Require.Present(value, nameof(Launch)); } = new() { RelativeTolerance = 1e-9 };

    /// <summary>
    /// A cause counts as found where its standard error is below this part of its size, 0.01 to 1; 0.25 by default. Its size is its value, and no less than what begins to
    /// matter: 0.1 for a coefficient of friction, 2 % of the coil for a resistance, 2 % of the weight at 1 m/s for viscous friction. Of remanence and gap it is a fifth of the value, so
    /// that 0.25 asks for 5 %: they are known to that before anything is measured.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    [Dimensionless]
    public double Precision
    {
        get;
        init => field = Require.InRange(value, 0.01, 1, "a cause that is not known to its own size is not known", nameof(Precision));
    } = 0.25;

    /// <summary>The probability with which each interval covers, 0.5 to 0.9999; 0.95 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    [Dimensionless]
    public double Confidence
    {
        get;
        init => field = Require.InRange(value, 0.5, 0.9999, "an interval covers more often than not, and never always", nameof(Confidence));
    } = 0.95;

    /// <summary>The options in words.</summary>
    public override string ToString()
        => $"found to {Show.Number(100 * Precision)} %, intervals of {Show.Number(100 * Confidence)} %; {Launch}";
}
