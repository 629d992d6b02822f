using FsCheck;
using FsCheck.Fluent;
using static Magrail.Tests.Coupling.GeneratedLayouts;

namespace Magrail.Tests.Coupling;

public sealed class AdaptiveChebyshevTests
{
    /// <summary>Functions with up to three pairs of poles, as the force constant has them, near and beside the cells: the error that is stated holds, and the tolerance with it.</summary>
    [RepeatableProperty]
    public Property Fit_of_a_function_with_poles_keeps_its_bound() => Prop.ForAll(
        (from poles in (from at in Between(-1.5, 2.5)
                        from width in Between(-1.5, 0.3)
                        from strength in Between(-1, 1)
                        select (At: at, Width: Math.Pow(10, width), Strength: strength)).ArrayOf(3)
         from border in Between(0.1, 0.9)
         from parallel in Gen.Elements(false, true)
         select (Poles: poles, Border: border, Parallel: parallel)).ToArbitrary(),
        test =>
        {
            double F(double x) => test.Poles.Sum(pole => pole.Strength * pole.Width * pole.Width / (((x - pole.At) * (x - pole.At)) + (pole.Width * pole.Width)));
            const double Tolerance = 1e-8;
            var fit = AdaptiveChebyshev.Fit(F, [0, test.Border, 1], Tolerance, 1e-15, test.Parallel);
            double worst = 0;
            for (int i = 0; i <= 1000; i++)
            {
                double x = i / 1000.0;
                worst = Math.Max(worst, Math.Abs(fit.At(x) - F(x)));
            }

            return (worst <= fit.ErrorBound + 1e-14 && fit.ErrorBound <= Tolerance).Label($"off by {worst:E2}, stated {fit.ErrorBound:E2}, {fit.CellCount} cells");
        });
}
