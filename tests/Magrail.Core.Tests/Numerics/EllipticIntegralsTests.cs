using Magrail.Numerics;
using Magrail.Tests.ReferenceData;
using Xunit.Abstractions;

namespace Magrail.Tests.Numerics;

/// <summary>Errors are counted in ulp of the true value (of the greater part, where two parts of a cel cancel).</summary>
public class EllipticIntegralsTests(ITestOutputHelper output)
{
    /// <summary>The arithmetic-geometric mean takes 3 to 7 steps with 2 roundings each, most of them damped by averaging.</summary>
    private const double BudgetK = 3;

    /// <summary>Landen's descent has more products and quotients in each step, and E near 1 has few ulps to the unit.</summary>
    private const double BudgetE = 4;

    /// <summary>As E, and the transformation of p before it.</summary>
    private const double BudgetCel = 6;

    private const string Boost = "Boost.Math test data (ellint_k_data.ipp, test_ellint_1.hpp, test_ellint_2.hpp)";
    private const string Garnier = "D. Garnier, tests of the open inductance package, 15 digits";
    private const string Quadrature = "mpmath quadrature (script committed)";

    private static readonly AccuracyRow KByModulus = new("K(k), 5 moduli", Boost, BudgetK, "ulp");
    private static readonly AccuracyRow EByModulus = new("E(k), 8 moduli", Boost, BudgetE, "ulp");
    private static readonly AccuracyRow ByParameter = new("K and E of the parameter m, 6 values", Garnier, 2e-15, "of it");
    private static readonly AccuracyRow NearSingularity = new("K at 1 − m = 1e-16, and at 1 − 2⁻⁵³", Garnier + "; ln(4/k′)", 1e-14, "");
    private static readonly AccuracyRow CelExamples = new("cel(kc, p, a, b), p above and below zero", "R. Bulirsch, Numer. Math. 13 (1969), section 4.2, quoted in a secondary source", 2e-15, "");
    private static readonly AccuracyRow KTable = new("K, 187 arguments from m = −1e100 to 1 − m = 1e-300", Quadrature, BudgetK, "ulp");
    private static readonly AccuracyRow ETable = new("E, the same arguments", Quadrature, BudgetE, "ulp");
    private static readonly AccuracyRow CelPositive = new("cel, p above zero", Quadrature, BudgetCel, "ulp of the greater part");
    private static readonly AccuracyRow CelNegative = new("cel, p below zero (principal value)", Quadrature, BudgetCel, "ulp of the greater part");

    // Boost.Math test data for complete elliptic integrals (ellint_k_data.ipp, test_ellint_1.hpp, test_ellint_2.hpp);
    // the argument is the modulus k.
    [Theory]
    [InlineData(-0.99042308330535888671875, "3.3777111753478962121159")]
    [InlineData(0.26472222805023193359375, "1.599456417822407802286")]
    [InlineData(0.75686252117156982421875, "1.92125787850825511858795")]
    [InlineData(0.985762655735015869140625, "3.18479789379352829275416")]
    [InlineData(0.992922723293304443359375, "3.52586763034840178782766")]
    public void K_by_modulus_matches_the_Boost_tables(double k, string expected)
        => Within(KByModulus, EllipticIntegrals.KFromModulus(k), expected, $"K(k = {k:R})");

    [Theory]
    [InlineData(0.0, "1.5707963267948966192")]
    [InlineData(1.0, "1")]
    [InlineData(0.09765625, "1.5670445330545086723")]
    [InlineData(0.1953125, "1.5557071588766556854")]
    [InlineData(0.390625, "1.5090417763083482272")]
    [InlineData(0.5, "1.4674622093394271555")]
    [InlineData(0.5859375, "1.4257538571071297193")]
    [InlineData(0.87890625, "1.1966864890248739524")]
    public void E_by_modulus_matches_the_Boost_tables(double k, string expected)
        => Within(EByModulus, EllipticIntegrals.EFromModulus(k), expected, $"E(k = {k:R})");

    // D. Garnier, tests of the open "inductance" package; the argument is the parameter m = k². Its sixteen digits are
    // doubles printed by another program, and for m = 0.1 and the like the table means the decimal number, not its double.
    [Theory]
    [InlineData(0.05, 1.591003453790792, 1.5509733517804725)]
    [InlineData(0.1, 1.6124413487202192, 1.5307576368977633)]
    [InlineData(0.25, 1.685750354812596, 1.4674622093394272)]
    [InlineData(0.75, 2.156515647499643, 1.2110560275684594)]
    [InlineData(0.9, 2.5780921133481733, 1.1047747327040733)]
    [InlineData(0.99, 3.6956373629898747, 1.015993545025223987)]
    public void K_and_E_by_parameter_match_published_values(double m, double k, double e)
    {
        // 15 digits are published with certainty.
        ByParameter.HoldDifference(k, EllipticIntegrals.KFromParameter(m), k, $"K, m = {m}");
        ByParameter.HoldDifference(e, EllipticIntegrals.EFromParameter(m), e, $"E, m = {m}");
    }

    [Fact]
    public void K_keeps_its_digits_next_to_the_singularity()
    {
        // D. Garnier, "inductance" package: K at 1 - m = 1e-16, 16 digits.
        double fromComplement = EllipticIntegrals.KFromComplement(1e-8);
        NearSingularity.HoldDifference(19.806975105072258, fromComplement);

        // The same place by the parameter: 1 - 1e-16 is no double, its neighbor 1 - 2^-53 is, and K = ln(4/kc) there.
        NearSingularity.HoldDifference(Math.Log(4) + (26.5 * Math.Log(2)), EllipticIntegrals.KFromParameter(1 - Math.Pow(2, -53)));
    }

    // R. Bulirsch, Numer. Math. 13 (1969), section 4.2, read in a secondary source.
    [Theory]
    [InlineData(0.1, 4.1, 1.2, 1.1, 1.5464442694017956)]
    [InlineData(0.1, -4.1, 1.2, 1.1, -0.67687378198360556)]
    public void Cel_matches_the_examples_of_its_author(double kc, double p, double a, double b, double expected)
        => CelExamples.HoldDifference(expected, EllipticIntegrals.Cel(kc, p, a, b));

    [Fact]
    public void K_and_E_match_the_quadrature_table()
    {
        var worstK = new Worst("K");
        var worstE = new Worst("E");
        foreach (ReferenceTable.Row row in ReferenceTable.Read("elliptic-complete.csv").Rows)
        {
            double x = row.Number("argument");
            (double k, double e) = row.Text("kind") switch
            {
                "k" => (EllipticIntegrals.KFromModulus(x), EllipticIntegrals.EFromModulus(x)),
                "m" => (EllipticIntegrals.KFromParameter(x), EllipticIntegrals.EFromParameter(x)),
                "kc" => (EllipticIntegrals.KFromComplement(x), EllipticIntegrals.EFromComplement(x)),
                string kind => throw new InvalidDataException(kind),
            };
            worstK.Add(Ulp.Error(k, row.Text("K")), row);
            worstE.Add(Ulp.Error(e, row.Text("E")), row);
        }

        output.WriteLine($"{worstK}\n{worstE}");
        KTable.Hold(worstK.Error);
        ETable.Hold(worstE.Error);
        Assert.Equal(187, worstK.Count);
    }

    [Fact]
    public void Cel_matches_the_quadrature_table()
    {
        var positive = new Worst("cel, p > 0");
        var negative = new Worst("cel, p < 0 (principal value)");
        foreach (ReferenceTable.Row row in ReferenceTable.Read("elliptic-cel.csv").Rows)
        {
            double value = EllipticIntegrals.Cel(row.Number("kc"), row.Number("p"), row.Number("a"), row.Number("b"));
            double error = Ulp.ErrorAtScale(value, row.Text("cel"), row.Number("scale"));
            (row.Number("p") > 0 ? positive : negative).Add(error, row);
        }

        output.WriteLine($"{positive}\n{negative}");
        CelPositive.Hold(positive.Error);
        CelNegative.Hold(negative.Error);
        Assert.True(positive.Count > 100 && negative.Count > 100);
    }

    [Theory]
    [InlineData(1e-12)]
    [InlineData(0.3)]
    [InlineData(0.9)]
    [InlineData(1)]
    public void Legendre_relation_holds(double kc)
    {
        // E K' + E' K - K K' = π/2 (Legendre); the primed integrals have k and kc exchanged.
        double k = Math.Sqrt((1 - kc) * (1 + kc));
        if (k == 0)
        {
            Assert.Equal(Math.PI / 2, EllipticIntegrals.EFromComplement(kc));
            return;
        }

        double bigK = EllipticIntegrals.KFromComplement(kc);
        double bigE = EllipticIntegrals.EFromComplement(kc);
        double otherK = EllipticIntegrals.KFromComplement(k);
        double otherE = EllipticIntegrals.EFromComplement(k);
        Assert.Equal(Math.PI / 2, (bigE * otherK) + (otherE * bigK) - (bigK * otherK), 1e-15 * (1 + (bigK * otherK)));
    }

    [Theory]
    [InlineData(0.2, 3.0)]
    [InlineData(5.0, 0.25)]
    public void Cel_contains_K_and_E(double kc, double p)
    {
        Assert.Equal(EllipticIntegrals.KFromComplement(kc), EllipticIntegrals.Cel(kc, 1, 1, 1), 4e-15);
        Assert.Equal(EllipticIntegrals.EFromComplement(kc), EllipticIntegrals.Cel(kc, 1, 1, kc * kc), 4e-15);

        // With a = 1 and b = p the denominator cancels and K is left.
        Assert.Equal(EllipticIntegrals.KFromComplement(kc), EllipticIntegrals.Cel(kc, p, 1, p), 4e-15);
    }

    [Fact]
    public void Cel_reaches_its_limit_at_kc_zero()
    {
        // cel(0, p, 1, 0) = ∫ cosφ dφ/(1 + (p - 1) sin²φ) = atan(√(p - 1))/√(p - 1) for p > 1; artanh for p < 1.
        Assert.Equal(Math.Atan(Math.Sqrt(3)) / Math.Sqrt(3), EllipticIntegrals.Cel(0, 4, 1, 0), 1e-15);
        Assert.Equal(1, EllipticIntegrals.Cel(0, 1, 1, 0), 1e-15);
        Assert.Equal(Math.Atanh(Math.Sqrt(0.75)) / Math.Sqrt(0.75), EllipticIntegrals.Cel(0, 0.25, 1, 0), 1e-15);

        // p = -3: the principal value of ∫ ds/(1 - 4 s²) over 0 to 1 is ln(3)/4.
        Assert.Equal(Math.Log(3) / 4, EllipticIntegrals.Cel(0, -3, 1, 0), 1e-15);
    }

    [Fact]
    public void All_are_even_in_modulus_and_complement()
    {
        Assert.Equal(EllipticIntegrals.KFromModulus(0.6), EllipticIntegrals.KFromModulus(-0.6));
        Assert.Equal(EllipticIntegrals.EFromModulus(0.6), EllipticIntegrals.EFromModulus(-0.6));
        Assert.Equal(EllipticIntegrals.KFromComplement(0.6), EllipticIntegrals.KFromComplement(-0.6));
        Assert.Equal(EllipticIntegrals.EFromComplement(0.6), EllipticIntegrals.EFromComplement(-0.6));
        Assert.Equal(EllipticIntegrals.Cel(0.6, 2, 1, 3), EllipticIntegrals.Cel(-0.6, 2, 1, 3));
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(-1.0)]
    [InlineData(1.5)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void K_refuses_a_modulus_outside_its_domain(double k)
        => RefusesNaming("k", () => EllipticIntegrals.KFromModulus(k));

    [Theory]
    [InlineData(1.0)]
    [InlineData(2.0)]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void K_refuses_a_parameter_outside_its_domain(double m)
        => RefusesNaming("m", () => EllipticIntegrals.KFromParameter(m));

    [Theory]
    [InlineData(0.0)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void K_refuses_a_complement_outside_its_domain(double kc)
        => RefusesNaming("kc", () => EllipticIntegrals.KFromComplement(kc));

    [Theory]
    [InlineData(1.0000000000000002)]
    [InlineData(double.NaN)]
    public void E_refuses_arguments_outside_its_domain(double x)
    {
        RefusesNaming("k", () => EllipticIntegrals.EFromModulus(x));
        RefusesNaming("m", () => EllipticIntegrals.EFromParameter(x));
        RefusesNaming("kc", () => EllipticIntegrals.EFromComplement(double.NaN * x));
    }

    [Theory]
    [InlineData(0, 1, 1, 1, "kc")]
    [InlineData(double.NaN, 1, 1, 0, "kc")]
    [InlineData(double.PositiveInfinity, 1, 1, 1, "kc")]
    [InlineData(1e-310, 1, 1, 1, "kc")]
    [InlineData(0.5, 0, 1, 1, "p")]
    [InlineData(0.5, double.NaN, 1, 1, "p")]
    [InlineData(0.5, double.NegativeInfinity, 1, 1, "p")]
    [InlineData(0.5, 1, double.NaN, 1, "a")]
    [InlineData(0.5, 1, 1, double.PositiveInfinity, "b")]
    public void Cel_refuses_arguments_outside_its_domain(double kc, double p, double a, double b, string name)
        => RefusesNaming(name, () => EllipticIntegrals.Cel(kc, p, a, b));

    [Fact]
    public void A_refusal_says_value_range_and_reason()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => EllipticIntegrals.KFromModulus(1.5));
        Assert.Contains("k is 1.5; it must be between -1 and 1, ends excluded: K is infinite at a modulus of 1", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_allocated()
    {
        double sum = Sum();
        Assert.Equal(0, Allocation.LeastOf(() => sum += Sum()));
        Assert.True(double.IsFinite(sum));

        static double Sum()
        {
            double total = 0;
            for (int i = 1; i < 100; i++)
            {
                double x = i / 100.0;
                total += EllipticIntegrals.KFromModulus(x) + EllipticIntegrals.EFromParameter(x)
                    + EllipticIntegrals.Cel(x, 2, 1, 3) + EllipticIntegrals.Cel(x, -2, 1, 3);
            }

            return total;
        }
    }

    private void Within(AccuracyRow row, double computed, string expected, string what)
    {
        double error = Ulp.Error(computed, expected);
        output.WriteLine($"{what}: {error:F2} ulp");
        row.Hold(error, what);
    }

    private static void RefusesNaming(string name, Func<object> call)
        => Assert.Throws<ArgumentOutOfRangeException>(name, call);

    private sealed class Worst(string what)
    {
        public double Error { get; private set; }

        public int Count { get; private set; }

        private double sum;

        private string place = "nowhere";

        public void Add(double error, ReferenceTable.Row row)
        {
            Count++;
            sum += error;
            if (!(error <= Error))
            {
                Error = error;
                place = row.ToString();
            }
        }

        public override string ToString() => $"{what}: {Count} rows, mean {sum / Count:F2} ulp, worst {Error:F2} ulp at [{place}]";
    }
}
