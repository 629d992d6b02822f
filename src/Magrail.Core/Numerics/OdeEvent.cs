namespace Magrail.Numerics;

/// <summary>The right-hand side of a system of ordinary differential equations: writes y' = f(t, y).</summary>
/// <param name="time">t.</param>
/// <param name="state">y.</param>
/// <param name="derivatives">Receives y'.</param>
public delegate void OdeFunction(double time, ReadOnlySpan<double> state, Span<double> derivatives);

/// <summary>A continuous signed distance from an event; the event is where it crosses zero.</summary>
/// <param name="time">t.</param>
/// <param name="state">y.</param>
/// <returns>The distance; never a boolean in disguise, or it cannot be located.</returns>
public delegate double EventFunction(double time, ReadOnlySpan<double> state);

/// <summary>A jump of the state at an event: changes y in place.</summary>
/// <param name="time">t.</param>
/// <param name="state">y just before; to be left as y just after.</param>
public delegate void StateJump(double time, Span<double> state);

/// <summary>An event to locate while integrating.</summary>
/// <param name="Name">What it is called in messages and in the record of crossings.</param>
/// <param name="Value">The signed distance.</param>
/// <param name="Direction">The direction in which a crossing counts.</param>
/// <param name="Response">What the integration does there.</param>
/// <param name="Jump">How the state jumps there; null for not at all. Needs <see cref="EventResponse.Restart"/> or <see cref="EventResponse.Stop"/>.</param>
public sealed record OdeEvent(
    string Name,
    EventFunction Value,
    CrossingDirection Direction = CrossingDirection.Either,
    EventResponse Response = EventResponse.Stop,
    StateJump? Jump = null);

/// <summary>One event that fired.</summary>
/// <param name="Event">The event's index in the list given to <see cref="OdeSolver"/>.</param>
/// <param name="Name">The event's name.</param>
/// <param name="Time">When.</param>
/// <param name="Before">The state just before.</param>
/// <param name="After">The state just after; equal to <paramref name="Before"/> where nothing jumps.</param>
public sealed record OdeCrossing(int Event, string Name, double Time, IReadOnlyList<double> Before, IReadOnlyList<double> After);
