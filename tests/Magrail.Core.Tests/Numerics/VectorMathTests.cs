using System.Runtime.Intrinsics;
using Magrail.Numerics;
using Magrail.Tests.ReferenceData;

namespace Magrail.Tests.Numerics;

/// <summary>The accuracy that each function states, against values of 30 digits (script beside the table).</summary>
public sealed class VectorMathTests
{
    private const string Mpmath = "mpmath at 60 digits (script committed)";
    private static readonly AccuracyRow Logarithm = new("ln of four numbers at once", Mpmath, 2, "ulp of the greater of itself and 1/8");
    private static readonly AccuracyRow Others = new("e^x, sine and cosine of a quarter turn, angle of a point, four at once", Mpmath, 1, "of the errors stated (4e-16 of it, 3e-16, 5e-16)");

    [Fact]
    public void Logarithm_is_within_two_ulp_of_the_greater_of_itself_and_an_eighth()
        => Check("log", 190, row => VectorMath.Log(Argument(row)), Logarithm, value => Math.Max(Math.Abs(value), 0.125));

    [Fact]
    public void Exponential_is_within_4e_16_of_itself() => CheckAbsolute(
        "exp", 200, row => VectorMath.Exp(Argument(row)), value => 4e-16 * value);

    [Fact]
    public void Sine_and_cosine_of_a_quarter_turn_are_within_3e_16()
    {
        CheckAbsolute("sin", 120, row => VectorMath.SinCosOfQuarter(Argument(row)).Sine, _ => 3e-16);
        CheckAbsolute("cos", 120, row => VectorMath.SinCosOfQuarter(Argument(row)).Cosine, _ => 3e-16);
    }

    [Fact]
    public void Angle_of_a_point_is_within_its_stated_error() => CheckAbsolute(
        "atan2",
        170,
        row => VectorMath.Atan2(Argument(row), Vector256.Create(row.Number("second"))),
        _ => StatedErrorOfAngle);

    [Fact]
    public void Angle_at_the_origin_is_zero()
    {
        Assert.Equal(Vector256<double>.Zero, VectorMath.Atan2(Vector256<double>.Zero, Vector256<double>.Zero));
        Assert.Equal(Vector256.Create(Math.PI / 2), VectorMath.Atan2(Vector256.Create(2.0), Vector256<double>.Zero));
    }

    [Fact]
    public void Each_of_the_four_places_has_its_own_result()
    {
        var x = Vector256.Create(0.1, 0.7, 1.1, 1.5);
        (Vector256<double> sine, Vector256<double> cosine) = VectorMath.SinCosOfQuarter(x);
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(Math.Log(x[i]), VectorMath.Log(x)[i], 1e-15);
            Assert.Equal(Math.Exp(x[i]), VectorMath.Exp(x)[i], 2e-15);
            Assert.Equal(Math.Sin(x[i]), sine[i], 1e-15);
            Assert.Equal(Math.Cos(x[i]), cosine[i], 1e-15);
            Assert.Equal(Math.Atan2(x[i], 0.3), VectorMath.Atan2(x, Vector256.Create(0.3))[i], 1e-15);
        }
    }

    private const double StatedErrorOfAngle = 5e-16;

    private static Vector256<double> Argument(ReferenceTable.Row row) => Vector256.Create(row.Number("x"));

    private static void Check(
        string function, int least, Func<ReferenceTable.Row, Vector256<double>> compute, AccuracyRow ulps, Func<double, double> scale)
    {
        int count = 0;
        foreach (ReferenceTable.Row row in ReferenceTable.Read("vector-math.csv").Rows.Where(row => row.Text("function") == function))
        {
            double error = Ulp.ErrorAtScale(compute(row)[0], row.Text("value"), scale(row.Number("value")));
            ulps.Hold(error, row.ToString());
            count++;
        }

        Assert.True(count >= least);
    }

    private static void CheckAbsolute(
        string function, int least, Func<ReferenceTable.Row, Vector256<double>> compute, Func<double, double> allowed)
    {
        int count = 0;
        foreach (ReferenceTable.Row row in ReferenceTable.Read("vector-math.csv").Rows.Where(row => row.Text("function") == function))
        {
            // Ulp counts in spacings of doubles, at 1 where an angle or a sine is smaller.
            double size = function == "exp" ? row.Number("value") : Math.Max(1, Math.Abs(row.Number("value")));
            double spacing = Math.BitIncrement(size) - size;
            double error = Ulp.ErrorAtScale(compute(row)[0], row.Text("value"), size) * spacing;
            Others.Hold(error / allowed(row.Number("value")), row.ToString());
            count++;
        }

        Assert.True(count >= least);
    }
}
