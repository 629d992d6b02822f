using UnitsNet;

namespace Magrail;

/// <summary>A filmed run for the calibration, with the launcher as it was described for it: its volts, coil and payload.</summary>
/// <remarks>
/// Frames that lie behind the start or beyond the release of the described launcher are not used. The film's scale and frame time enter as unknowns of this
/// film, known to the uncertainty that it states.
/// </remarks>
public sealed record CalibrationRun
{
    /// <summary>Joins a film to its launcher.</summary>
    /// <param name="launcher">The launcher of this run.</param>
    /// <param name="film">The film.</param>
    /// <param name="start">Time of the film at which the switch closed; found with the other unknowns where null.</param>
    /// <param name="origin">Where on the track the film's position zero lies; at the track's zero where null.</param>
    /// <param name="originError">Standard uncertainty of that, zero or above; zero by default.</param>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public CalibrationRun(Launcher launcher, FilmedRun film, Duration? start = null, Length? origin = null, Length? originError = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentNullException.ThrowIfNull(film);
        Launcher = launcher;
        Film = film;
        Start = start is Duration time ? Require.Finite(time, "a film has times", nameof(start)) : null;
        Origin = Require.Finite(origin ?? Length.Zero, "a place on the track", nameof(origin));
        OriginError = Require.NotNegative(originError ?? Length.Zero, "an error is not below zero", nameof(originError));
    }

    /// <summary>The launcher of this run.</summary>
    public Launcher Launcher { get; }

    /// <summary>The film.</summary>
    public FilmedRun Film { get; }

    /// <summary>Time of the film at which the switch closed; null where it is found.</summary>
    public Duration? Start { get; }

    /// <summary>Where on the track the film's position zero lies.</summary>
    public Length Origin { get; }

    /// <summary>Standard uncertainty of that.</summary>
    public Length OriginError { get; }

    /// <summary>The run in words.</summary>
    public override string ToString() => $"{Film} of a launch with {Launcher.Source}{(Start is Duration start ? $", begun at {Show.Quantity(start)}" : string.Empty)}";
}
