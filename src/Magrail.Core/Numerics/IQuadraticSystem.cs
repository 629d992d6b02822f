using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>
/// A small system of differential equations whose derivatives are sums of components and of products of two components, each times a factor that stays between marks. <see cref="SeriesIntegrator{TSystem}"/> integrates
/// eight copies at once, one in each lane of a vector, each with its own time, step and parameters.
/// </summary>
/// <remarks>
/// Sines, exponentials, roots and quotients become such sums by components of their own: for s = sin x and c = cos x, s' = c x' and c' = −s x' are sums of products. These auxiliary components follow the
/// others and are set from them at the start of every step (<see cref="Complete"/>), so that they never drift from what they stand for.
/// The equations change only where a component comes to a value known beforehand, a mark: an edge of a strip in position, a current of zero. What differs from lane to lane
/// (a sign, a parameter) the system keeps in vectors of its own, one number a lane.
/// </remarks>
public interface IQuadraticSystem
{
    /// <summary>Number of components of the state, 1 to 1000.</summary>
    int Dimension { get; }

    /// <summary>Number of auxiliary components that follow those of the state, 0 to 1000.</summary>
    int AuxiliaryCount { get; }

    /// <summary>The pairs of components, auxiliary ones among them, of which the derivatives need the products.</summary>
    IReadOnlyList<(int First, int Second)> Products { get; }

    /// <summary>The component of each mark, from 0; not an auxiliary one.</summary>
    IReadOnlyList<int> MarkedComponents { get; }

    /// <summary>The derivatives of all lanes: linear in what is given, as it is called with the coefficients of each power of time in turn.</summary>
    /// <param name="state">The components and then the auxiliary ones, each of all lanes.</param>
    /// <param name="products">The products, in the order of <see cref="Products"/>.</param>
    /// <param name="one">What a constant is to be multiplied by: one for the zeroth power, zero for all others.</param>
    /// <param name="derivatives">To be filled, as long as <paramref name="state"/>.</param>
    void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives);

    /// <summary>Sets the auxiliary components of all lanes from the others.</summary>
    /// <param name="state">The components, followed by the auxiliary ones.</param>
    void Complete(Span<Vector512<double>> state);

    /// <summary>Puts a lane to the start of a member of the ensemble. Lanes that are left over go through the motions of member 0: they are begun too, and never ended.</summary>
    /// <param name="lane">Which lane, from 0.</param>
    /// <param name="member">Which member, from 0.</param>
    /// <param name="state">To be filled with its start state, without the auxiliary components.</param>
    void Begin(int lane, int member, Span<double> state);

    /// <summary>Where one of a lane's marks is now; asked after a start and after each mark that was met.</summary>
    /// <param name="lane">Which lane.</param>
    /// <param name="mark">Which mark, from 0.</param>
    /// <returns>The value that the marked component may come to; not a number while the mark does not count.</returns>
    double Mark(int lane, int mark);

    /// <summary>Changes what holds for a lane, and its state where it jumps, at a mark.</summary>
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
