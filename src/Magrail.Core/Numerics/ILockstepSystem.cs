using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>
/// A small system of differential equations of which <see cref="LockstepIntegrator{TSystem}"/> integrates eight at once, one in each lane of a vector, each with its own time, step and mode.
/// </summary>
/// <remarks>
/// Its equations change only where a component of the state comes to a value known beforehand, a <see cref="LockstepMark"/>: an edge of a strip in position, a current of zero. They do not depend on
/// time. What differs from lane to lane (a mode, a sign, a parameter) the system keeps in vectors of its own, one number a lane.
/// </remarks>
public interface ILockstepSystem
{
    /// <summary>Number of components of the state, 1 or more.</summary>
    int Dimension { get; }

    /// <summary>Number of marks of a lane, 0 or more.</summary>
    int MarkCount { get; }

    /// <summary>Number of modes, 1 or more: of ways in which the equations of a lane may stand between two marks.</summary>
    int ModeCount { get; }

    /// <summary>The mode of a lane, from 0; asked after a start and after each mark. The length of a step is remembered for each.</summary>
    /// <param name="lane">Which lane.</param>
    int Mode(int lane);

    /// <summary>The derivatives of all lanes.</summary>
    /// <param name="state">The components, each of all lanes.</param>
    /// <param name="derivatives">To be filled likewise.</param>
    void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives);

    /// <summary>Puts a lane to the start of a member of the ensemble.</summary>
    /// <param name="lane">Which lane, from 0.</param>
    /// <param name="member">Which member, from 0.</param>
    /// <param name="state">To be filled with its start state.</param>
    void Begin(int lane, int member, Span<double> state);

    /// <summary>Where one of a lane's marks is now; asked after a start and after each mark that was met.</summary>
    /// <param name="lane">Which lane.</param>
    /// <param name="mark">Which mark, from 0.</param>
    LockstepMark Mark(int lane, int mark);

    /// <summary>Changes the mode of a lane, and its state where it jumps, at a mark.</summary>
    /// <param name="lane">Which lane.</param>
    /// <param name="mark">The mark that it has come to.</param>
    /// <param name="time">Its time.</param>
    /// <param name="state">Its state, the marked component exactly on its mark; may be changed.</param>
    /// <returns>Whether the member goes on, or is at its end.</returns>
    EventResponse OnMark(int lane, int mark, double time, Span<double> state);

    /// <summary>Takes what became of a member.</summary>
    /// <param name="lane">Which lane it was in.</param>
    /// <param name="member">Which member.</param>
    /// <param name="outcome">How it ended.</param>
    /// <param name="time">Its time.</param>
    /// <param name="state">Its state.</param>
    void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state);
}

/// <summary>A value that a component of the state may come to.</summary>
/// <param name="Component">Which component, from 0.</param>
/// <param name="Value">The value; not a number while the mark does not count.</param>
public readonly record struct LockstepMark(int Component, double Value)
{
    /// <summary>A mark that does not count for now.</summary>
    public static LockstepMark None { get; } = new(0, double.NaN);
}
