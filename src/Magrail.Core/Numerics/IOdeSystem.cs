namespace Magrail.Numerics;

/// <summary>A system of ordinary differential equations of the first order, y' = f(t, y).</summary>
/// <remarks>
/// Must be smooth between events: whatever switches is kept constant here and changed in an event (see
/// <see cref="IHybridSystem"/>). Implementations must not allocate if the integration is to allocate nothing per step.
/// </remarks>
public interface IOdeSystem
{
    /// <summary>Number of state variables, 1 or more; constant during an integration.</summary>
    int Dimension { get; }

    /// <summary>Writes f(t, y) for the given time and state.</summary>
    /// <param name="time">t, in the caller's unit of time.</param>
    /// <param name="state">y, <see cref="Dimension"/> values.</param>
    /// <param name="derivatives">Receives y', <see cref="Dimension"/> values, every one to be written.</param>
    void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives);
}
