using Magrail.Numerics;

namespace Magrail;

/// <summary>A launch's equations as a structure, so that the compiler writes the integrator for them alone and calls them without indirection.</summary>
/// <param name="system">The equations.</param>
internal readonly struct LaunchEquations(LaunchSystem system) : IHybridSystem
{
    public int Dimension => system.Dimension;

    public int EventCount => system.EventCount;

    public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => system.Derivatives(time, state, derivatives);

    public double EventValue(int index, double time, ReadOnlySpan<double> state) => system.EventValue(index, time, state);

    public CrossingDirection Direction(int index) => system.Direction(index);

    public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
        => system.MayCrossTwice(index, startDerivatives, endDerivatives);

    public double LongestStep(ReadOnlySpan<double> state) => system.LongestStep(state);

    public double NextTimeStop(double time) => system.NextTimeStop(time);

    public void OnStep(in DenseStep taken) => system.OnStep(taken);

    public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired) => system.OnEvent(time, state, fired);
}
