namespace Magrail.Numerics;

/// <summary>
/// A system whose equations change at located events: a continuous part that is smooth between events, and a discrete mode
/// that is held constant between them.
/// </summary>
/// <remarks>
/// An event is a continuous signed distance that crosses zero, never a boolean. An interval is half open, (t₀, t₁]: a zero
/// at its start does not fire. Events that fall together (within the location tolerance) are handed over in one call.
/// </remarks>
public interface IHybridSystem : IOdeSystem
{
    /// <summary>Number of event functions, 0 or more; constant during an integration.</summary>
    int EventCount { get; }

    /// <summary>The signed distance of one event from its zero; <see cref="double.NaN"/> while the event is not armed, which may change at events only.</summary>
    /// <param name="index">Which event, 0 to <see cref="EventCount"/> − 1.</param>
    /// <param name="time">t.</param>
    /// <param name="state">y.</param>
    double EventValue(int index, double time, ReadOnlySpan<double> state);

    /// <summary>The direction in which a crossing counts.</summary>
    /// <param name="index">Which event.</param>
    CrossingDirection Direction(int index);

    /// <summary>
    /// Whether the event function may cross zero twice inside one step, given the derivatives at both ends. Answering
    /// <see langword="true"/> costs a few evaluations on the continuous extension; answering <see langword="false"/> is right
    /// where the function is monotone between restarts.
    /// </summary>
    /// <param name="index">Which event.</param>
    /// <param name="startDerivatives">y' at the start of the step.</param>
    /// <param name="endDerivatives">y' at its end.</param>
    bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives);

    /// <summary>A time that no step may span, such as a switch that opens by the clock; positive infinity for none.</summary>
    /// <param name="time">The present time; the answer must be later.</param>
    double NextTimeStop(double time);

    /// <summary>The longest step in which an event function turns round no more than once; positive infinity for no bound.</summary>
    /// <param name="state">The present state.</param>
    double LongestStep(ReadOnlySpan<double> state) => double.PositiveInfinity;

    /// <summary>Sees every accepted step, cut at the event that ends it, in order.</summary>
    /// <param name="taken">The step's continuous extension.</param>
    void OnStep(in DenseStep taken);

    /// <summary>Changes mode, and the state where it jumps, at an event.</summary>
    /// <param name="time">The time of the event.</param>
    /// <param name="state">The state just before; may be changed in place.</param>
    /// <param name="fired">The indices of all events that fire here, ascending; empty at a time stop.</param>
    /// <remarks>
    /// Where an event falls on the very time of a stop, there are two calls: one with the events, then one with none. A fired event that
    /// stays on its zero is armed anew once it has left it; one that is moved (by a jump, or because its index now stands for
    /// another place) is armed at once.
    /// </remarks>
    /// <returns>What the integration does next.</returns>
    EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired);
}

/// <summary>The direction in which an event function must cross zero to count.</summary>
public enum CrossingDirection
{
    /// <summary>Both directions count.</summary>
    Either,

    /// <summary>Only from below zero to above.</summary>
    NegativeToPositive,

    /// <summary>Only from above zero to below.</summary>
    PositiveToNegative,
}

/// <summary>What an integration does after an event.</summary>
public enum EventResponse
{
    /// <summary>Notes the crossing and goes on: neither mode nor state changed.</summary>
    Record,

    /// <summary>Starts anew from the event with the new mode and state.</summary>
    Restart,

    /// <summary>Ends the integration at the event.</summary>
    Stop,
}
