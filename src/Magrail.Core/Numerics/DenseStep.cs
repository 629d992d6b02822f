using System.Runtime.CompilerServices;

namespace Magrail.Numerics;

/// <summary>
/// The continuous extension of one accepted step of <see cref="DormandPrince54{TSystem}"/>: a polynomial of the fourth
/// degree in time for each component.
/// </summary>
/// <remarks>
/// Fourth-order accurate inside the step, equal to the solution of fifth order at both ends. A view: it is valid until
/// the integrator takes its next step.
/// Source: E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, section II.6.
/// </remarks>
public readonly ref struct DenseStep
{
    private readonly ReadOnlySpan<double> coefficients;
    private readonly int stride;

    internal DenseStep(double start, double length, double end, ReadOnlySpan<double> coefficients, int stride, int dimension)
    {
        Start = start;
        Length = length;
        End = end;
        this.coefficients = coefficients;
        this.stride = stride;
        Dimension = dimension;
    }

    /// <summary>The time at which the step starts.</summary>
    public double Start { get; }

    /// <summary>The time at which it ends: the end of the whole step, or the event that cut it.</summary>
    public double End { get; }

    /// <summary>Number of components.</summary>
    public int Dimension { get; }

    /// <summary>The length of the whole step, before an event cut it.</summary>
    internal double Length { get; }

    /// <summary>One component at a time.</summary>
    /// <param name="component">Index, 0 to <see cref="Dimension"/> − 1.</param>
    /// <param name="time">A time from <see cref="Start"/> to <see cref="End"/>; outside, the polynomial is extrapolated.</param>
    public double Value(int component, double time) => At(component, Theta(time));

    /// <summary>The time derivative of one component, from the polynomial.</summary>
    /// <param name="component">Index, 0 to <see cref="Dimension"/> − 1.</param>
    /// <param name="time">A time from <see cref="Start"/> to <see cref="End"/>.</param>
    public double Slope(int component, double time)
    {
        double s = Theta(time);
        double r = 1 - s;
        double r3 = coefficients[(2 * stride) + component];
        double r4 = coefficients[(3 * stride) + component];
        double r5 = coefficients[(4 * stride) + component];
        double inner = r4 + (r * r5);
        double middle = r3 + (s * inner);
        double outer = coefficients[stride + component] + (r * middle);
        double middleSlope = inner - (s * r5);
        double outerSlope = -middle + (r * middleSlope);
        return (outer + (s * outerSlope)) / Length;
    }

    /// <summary>All components at a time.</summary>
    /// <param name="time">A time from <see cref="Start"/> to <see cref="End"/>; outside, the polynomial is extrapolated.</param>
    /// <param name="state">Receives <see cref="Dimension"/> values.</param>
    public void Values(double time, Span<double> state)
    {
        double s = Theta(time);
        for (int i = 0; i < Dimension; i++)
        {
            state[i] = At(i, s);
        }
    }

    internal void CopyCoefficients(Span<double> destination)
    {
        for (int order = 0; order < 5; order++)
        {
            coefficients.Slice(order * stride, Dimension).CopyTo(destination.Slice(order * Dimension, Dimension));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double Theta(double time) => (time - Start) / Length;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double At(int i, double s)
    {
        double r = 1 - s;
        double inner = coefficients[(3 * stride) + i] + (r * coefficients[(4 * stride) + i]);
        double middle = coefficients[(2 * stride) + i] + (s * inner);
        double outer = coefficients[stride + i] + (r * middle);
        return coefficients[i] + (s * outer);
    }
}
