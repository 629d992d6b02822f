using System.Runtime.CompilerServices;
using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// The system of a launch as the integrator calls it: a struct, so that the compiler makes an integrator of its own for it and calls each
/// member directly, where a class would share one integrator with every other and be called through its interface.
/// </summary>
internal readonly struct LaunchSystemCalls(LaunchSystem system) : IHybridSystem
{
    public int Dimension => system.Dimension;

    public int EventCount => system.EventCount;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => system.Derivatives(time, state, derivatives);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double EventValue(int index, double time, ReadOnlySpan<double> state) => system.EventValue(index, time, state);

    public CrossingDirection Direction(int index) => system.Direction(index);

    public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
        => system.MayCrossTwice(index, startDerivatives, endDerivatives);

    public double NextTimeStop(double time) => system.NextTimeStop(time);

    public double LongestStep(ReadOnlySpan<double> state) => system.LongestStep(state);

    public void OnStep(in DenseStep taken) => system.OnStep(taken);

    public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired) => system.OnEvent(time, state, fired);
}
