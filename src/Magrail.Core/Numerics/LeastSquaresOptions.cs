using System.Collections.Immutable;

namespace Magrail.Numerics;

/// <summary>How a sum of squares is made least: bounds, steps of the differences, and when to stop.</summary>
public sealed record LeastSquaresOptions
{
    /// <summary>The defaults: no bounds, uncertainty estimated from the scatter.</summary>
    public static LeastSquaresOptions Default { get; } = new();

    /// <summary>Lower bound of each parameter; empty (the default) for none. Negative infinity leaves a parameter free.</summary>
    public ImmutableArray<double> Lower { get; init; } = [];

    /// <summary>Upper bound of each parameter; empty (the default) for none. Infinity leaves a parameter free.</summary>
    public ImmutableArray<double> Upper { get; init; } = [];

    /// <summary>
    /// The size at which each parameter begins to matter, above zero; empty (the default) where it is the parameter's own size. Steps of the
    /// differences are taken relative to the greater of the two, so that a parameter may start at zero.
    /// </summary>
    public ImmutableArray<double> Scales { get; init; } = [];

    /// <summary>
    /// Step of the differences relative to a parameter's size, 1e-8 to 0.1; 1e-3 by default, which the fourth-order formula takes to about
    /// 1e-12. Where the residuals carry noise of their own (an integration to a tolerance), take a longer one.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public double RelativeStep
    {
        get;
        init => field = Require.InRange(value, 1e-8, 0.1, "below, rounding decides; above, a difference is no slope", nameof(RelativeStep));
    } = 1e-3;

    /// <summary>Whether slopes are taken from four residuals a parameter (error of the fourth order, the default) or from two.</summary>
    public bool FourthOrder { get; init; } = true;

    /// <summary>The fit is found where the next undamped step is below this part of each parameter's size; 1e-10 by default, 1e-15 to 0.01.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public double StepTolerance
    {
        get;
        init => field = Require.InRange(value, 1e-15, 1e-2, "below, rounding decides; above, the result means little", nameof(StepTolerance));
    } = 1e-10;

    /// <summary>
    /// Directions whose effect on the residuals is below this part of the strongest are left alone, as what the slopes do not fix; 1e-14 by default, 0 to 0.01.
    /// Residuals with noise of their own make noise of their slopes, and need more.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public double RankTolerance
    {
        get;
        init => field = Require.InRange(value, 0, 1e-2, "above, directions that count would be left alone", nameof(RankTolerance));
    } = 1e-14;

    /// <summary>
    /// The fit is also found where the undamped step would lower the sum of squares by less than this; zero by default. With residuals over known deviations 1e-4 leaves each
    /// parameter within a hundredth of its standard error.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero or not finite.</exception>
    public double SumTolerance
    {
        get;
        init => field = Require.InRange(value, 0, double.MaxValue, "a sum of squares has no negative parts", nameof(SumTolerance));
    }

    /// <summary>The most steps to try, 1 or more; 2000 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int IterationLimit
    {
        get;
        init => field = Require.InRange(value, 1, int.MaxValue, "a fit takes steps", nameof(IterationLimit));
    } = 2000;

    /// <summary>
    /// Whether each residual is already divided by its known standard deviation. Standard errors then follow from those; otherwise (the default) they
    /// follow from the scatter of the residuals, s² = RSS/(n − p).
    /// </summary>
    public bool DeviationsAreKnown { get; init; }
}
