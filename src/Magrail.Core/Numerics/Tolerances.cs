namespace Magrail.Numerics;

/// <summary>
/// The accuracy asked of an integration: the local error of each component is weighed against <c>Absolute + Relative · |y|</c>, and their root mean
/// square stays below one. A component is of no account much below <c>Absolute / Relative</c>.
/// </summary>
/// <remarks><see cref="SeriesIntegrator{TSystem}"/> holds the last two terms of each component's series below it instead, before the step. The local error per step is controlled; the global error is usually of the same size, and a test shows it.</remarks>
public sealed class Tolerances
{
    private readonly double[] absolute;

    /// <summary>One absolute tolerance for all components.</summary>
    /// <param name="relative">Relative tolerance, 1e-13 to 0.1.</param>
    /// <param name="absolute">Absolute tolerance in the unit of the state, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Tolerances(double relative, double absolute)
        : this(relative, [absolute])
    {
    }

    /// <summary>An absolute tolerance for each component.</summary>
    /// <param name="relative">Relative tolerance, 1e-13 to 0.1.</param>
    /// <param name="absolute">Absolute tolerances in the unit of each component, above zero; one value serves all.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Tolerances(double relative, ReadOnlySpan<double> absolute)
    {
        Relative = Require.InRange(relative, 1e-13, 0.1, "below 1e-13 rounding decides the step, above 0.1 the error estimate means nothing");
        if (absolute.Length == 0)
        {
            throw new ArgumentOutOfRangeException(nameof(absolute), "absolute has no value; give one, or one for each component.");
        }

        foreach (double value in absolute)
        {
            if (!(value > 0 && double.IsFinite(value)))
            {
                throw Require.Fault(nameof(absolute), Show.Number(value), "above zero and finite", "a component at zero would otherwise ask for a step of zero");
            }
        }

        this.absolute = absolute.ToArray();
    }

    /// <summary>The relative tolerance.</summary>
    public double Relative { get; }

    /// <summary>The absolute tolerance of a component, in its unit.</summary>
    /// <param name="component">Index of the component, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such component.</exception>
    public double Absolute(int component)
        => absolute.Length == 1
            ? absolute[0]
            : absolute[Require.InRange(component, 0, absolute.Length - 1, "each component has one absolute tolerance")];
}
