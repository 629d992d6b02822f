using Magrail.Sources;

namespace Magrail.Tests.Windings;

/// <summary>Self-inductance of round coils, for which handbooks have values.</summary>
public class RoundCoilInductanceTests
{
    private static readonly double Mu0 = PhysicalConstants.VacuumPermeability;

    private static readonly AccuracyRow Nagaoka = new("Nagaoka's factor, 10 lengths", "F. W. Grover, Inductance Calculations, Table 36, p. 144", 1, "of the last digit (1e-6)");
    private static readonly AccuracyRow NagaokaFormula = new("Nagaoka's factor, 11 lengths", "H. Nagaoka's formula of 1909 by arithmetic-geometric means", 1e-8, "of it");
    private static readonly AccuracyRow Lyle = new("three current sheets", "T. R. Lyle, Phil. Trans. 1914, quoted by D. Garnier", 0.5, "of the last digit");
    private static readonly AccuracyRow Brooks = new("Brooks coil", "Bessel-Struve integral", 8e-8, "of it");
    private static readonly AccuracyRow BrooksTable = new("Brooks coil to the digits printed", "nessengr.com, Brooks coil page, 0.025491 µH/cm", 0.5, "of the last digit (1e-6)");
    private static readonly AccuracyRow Pancake = new("levitation coil of the Levitated Dipole Experiment", "exact thick-coil integral", 1e-6, "of it");

    private static CoilSi Thick(double inner, double outer, double length)
        => new(inner, inner, inner, new WindingBlockSi(0, outer - inner, -0.5 * length, 0.5 * length, 1), default);

    private static CoilSi Sheet(double radius, double length)
        => Thick(radius * (1 - 5e-11), radius * (1 + 5e-11), length);

    /// <summary>4/(3π k′) (k′²/k² (K − E) + E − k) with k² = D²/(D² + l²), K and E by the arithmetic-geometric mean.</summary>
    private static double NagaokaExact(double lengthOverDiameter)
    {
        double squareOfK = 1 / (1 + (lengthOverDiameter * lengthOverDiameter));
        double k = Math.Sqrt(squareOfK);
        double complementary = Math.Sqrt(1 - squareOfK);
        (double a, double g, double sum, double power) = (1, complementary, squareOfK, 1);
        for (int i = 0; i < 12; i++)
        {
            double c = 0.5 * (a - g);
            (a, g) = (0.5 * (a + g), Math.Sqrt(a * g));
            power *= 2;
            sum += power * c * c;
        }

        double K = Math.PI / (2 * a);
        double E = K * (1 - (0.5 * sum));
        return 4 / (3 * Math.PI * complementary)
            * ((complementary * complementary / squareOfK * (K - E)) + E - k);
    }

    /// <summary>Nagaoka's factor L/(μ₀ N² π a²/l) of a current sheet, F. W. Grover, Inductance Calculations, Table 36, p. 144.</summary>
    [Theory]
    [InlineData(0.01, 0.034960)]
    [InlineData(0.02, 0.061098)]
    [InlineData(0.05, 0.123615)]
    [InlineData(0.20, 0.319825)]
    [InlineData(0.30, 0.405269)]
    [InlineData(0.40, 0.471865)]
    [InlineData(0.60, 0.569691)]
    [InlineData(0.70, 0.606689)]
    [InlineData(0.75, 0.623011)]
    [InlineData(1.00, 0.688423)]
    public void Nagaokas_factor(double lengthOverDiameter, double table)
    {
        double factor = SelfInductance.Compute(Sheet(0.5, lengthOverDiameter)) * lengthOverDiameter / (Mu0 * Math.PI * 0.25);
        Nagaoka.HoldDifference(table, factor, 1e-6);

        // The same factor in complete elliptic integrals (H. Nagaoka 1909), by a series of arithmetic-geometric means.
        NagaokaFormula.HoldRatio(NagaokaExact(lengthOverDiameter), factor, $"{lengthOverDiameter}");
    }

    /// <summary>The same table prints 0.665054 for l/D = 0.9: its last digit is wrong, and we must disagree with it.</summary>
    [Fact]
    public void Nagaokas_factor_at_nine_tenths_is_misprinted()
    {
        double factor = SelfInductance.Compute(Sheet(0.5, 0.9)) * 0.9 / (Mu0 * Math.PI * 0.25);
        NagaokaFormula.HoldRatio(NagaokaExact(0.9), factor, "0.9");
        Assert.True(Math.Abs(factor - 0.665054) > 1e-6);
    }

    /// <summary>
    /// Current sheets, T. R. Lyle, Phil. Trans. R. Soc. 1914, as quoted in D. Garnier's tests of the open inductance package: L/μ₀ 1.08137
    /// of radius 1, length 2; 20.7463e-7 H and 28.85335e-7 H.
    /// </summary>
    [Theory]
    [InlineData(2, 1.08137, 1, 1e-5)]
    [InlineData(1, 20.7463e-7, 1.25663706127e-6, 1e-11)]
    [InlineData(0.5, 28.85335e-7, 1.25663706127e-6, 1e-12)]
    public void Lyles_current_sheets(double length, double value, double unit, double lastDigit)
        => Lyle.HoldDifference(value, SelfInductance.Compute(Sheet(1, length)) / Mu0 * unit, lastDigit, $"{length}");

    /// <summary>
    /// Brooks coil (inner radius = height = depth = c): 0.0254906732 µH per cm of c (Bessel-Struve integral); 0.025491 on
    /// nessengr.com, Brooks coil page.
    /// </summary>
    [Fact]
    public void Brooks_coil()
    {
        double microhenriesPerCentimeter = SelfInductance.Compute(Thick(0.01, 0.02, 0.01)) * 1e6;
        Brooks.HoldRatio(0.0254906732, microhenriesPerCentimeter);
        BrooksTable.HoldDifference(0.025491, microhenriesPerCentimeter, 1e-6);

        // By the mean radius: 0.016994 µH/cm (F. W. Grover, from memory).
        Assert.Equal(0.016994, microhenriesPerCentimeter / 1.5, 5e-7);
    }

    /// <summary>
    /// The 80-turn levitation coil of the Levitated Dipole Experiment (r 0.246 m to 0.700 m, 0.1 m long): exact 5.6240599e-3 H. D. Garnier's
    /// tests of the open inductance package quote Lyle's fourth and sixth order, filaments and Maxwell's formula; all four are approximations,
    /// and we must lie where the exact integral does.
    /// </summary>
    [Fact]
    public void Pancake_coil()
    {
        double value = 80 * 80 * SelfInductance.Compute(Thick(0.246, 0.700, 0.1));
        Pancake.HoldRatio(5.6240599e-3, value);
        Assert.Equal(3.8e-4, (5.626208e-3 / value) - 1, 1e-5);
        Assert.Equal(-3.1e-5, (5.623887e-3 / value) - 1, 1e-6);
        Assert.Equal(1.9e-4, (5.625117e-3 / value) - 1, 1e-5);
        Assert.Equal(-0.040, (5.3975195e-3 / value) - 1, 1e-3);
    }

    /// <summary>
    /// H. A. Wheeler's formula for a single layer, D² N²/(18 D + 40 l) µH in inches (webgoodies.org), is good to a percent above l/D = 0.4; it lies 0.12 %, 0.10 %,
    /// 0.50 % and 0.58 % below Nagaoka's value, and so below ours.
    /// </summary>
    [Theory]
    [InlineData(0.5, -0.0012)]
    [InlineData(1, -0.0010)]
    [InlineData(2, -0.0050)]
    [InlineData(4, -0.0058)]
    public void Wheelers_formula_lies_below(double lengthOverDiameter, double deviation)
    {
        const double Inch = 0.0254;
        double microhenries = 1 / (18 + (40 * lengthOverDiameter));
        double exact = SelfInductance.Compute(Sheet(0.5 * Inch, lengthOverDiameter * Inch)) * 1e6;
        Assert.Equal(deviation, (microhenries / exact) - 1, 6e-5);
    }

    /// <summary>
    /// OpenStax College Physics, example 23.7: 200 turns, radius 2 cm, length 10 cm, "0.632 mH" by the formula of the endless
    /// solenoid. The coil has an end: 0.5368 mH.
    /// </summary>
    [Fact]
    public void The_long_solenoid_formula_is_not_good_enough()
    {
        double value = 200 * 200 * SelfInductance.Compute(Sheet(0.02, 0.1));
        Assert.Equal(0.5368e-3, value, 0.5e-7);
        Assert.True(value < 0.9 * 0.632e-3);
        Assert.Equal(0.632e-3, Mu0 * 200 * 200 * Math.PI * 0.02 * 0.02 / 0.1, 1e-6);
    }
}
