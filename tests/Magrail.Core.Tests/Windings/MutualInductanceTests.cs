using Magrail.Sources;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Mutual inductance of wound coils: signs, axes, closed forms for loops.</summary>
public class MutualInductanceTests
{
    private static readonly Wire Thin = Wire.Copper(WireGauge.Metric(0.1.Millimeters()), EnamelGrade.Bare);
    private static readonly Wire HalfMillimeter = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);

    private static readonly AccuracyRow Circles = new("mutual inductance of coaxial loops, wire a thousandth of them", "J. C. Maxwell, Treatise, art. 701", 1e-5, "of it");
    private static readonly AccuracyRow TurnByTurnLayered = new("inductance of round coils turn by turn, layered", "J. C. Maxwell, Treatise, art. 701, all pairs of turns", 1e-3, "of it");
    private static readonly AccuracyRow TurnByTurnOrthocyclic = new("inductance of round coils turn by turn, orthocyclic", "J. C. Maxwell, Treatise, art. 701, all pairs of turns", 2e-3, "of it");

    private static Coil Loop(double diameterMillimeters, TrackAxis axis = TrackAxis.Along)
        => Coil.Wind(Thin, CoilFormer.Round((diameterMillimeters - 0.1).Millimeters(), 0.1.Millimeters()), 1, axis: axis);

    private static Coil Bench(int turns, TrackAxis axis = TrackAxis.Across)
        => Coil.Wind(
            HalfMillimeter,
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            turns,
            axis: axis);

    /// <summary>
    /// Two coaxial circles: M = μ₀ √(a b) ((2/k − k) K − (2/k) E), k² = 4 a b/((a + b)² + z²) (J. C. Maxwell, Treatise, art. 701). The wire
    /// is a thousandth of the circle, so it is a circle to about 1e-6.
    /// </summary>
    [Theory]
    [InlineData(100, 100, 50)]
    [InlineData(100, 60, 20)]
    [InlineData(40, 100, 300)]
    [InlineData(100, 100, 5)]
    public void Coaxial_circles(double diameterA, double diameterB, double apart)
    {
        double a = 0.5e-3 * diameterA;
        double b = 0.5e-3 * diameterB;
        double z = 1e-3 * apart;
        double square = 4 * a * b / (((a + b) * (a + b)) + (z * z));
        double k = Math.Sqrt(square);
        (double first, double second) = Elliptic(square);
        double expected = PhysicalConstants.VacuumPermeability * Math.Sqrt(a * b) * ((((2 / k) - k) * first) - (2 / k * second));
        double ours = MutualInductance.Between(Loop(diameterA), Loop(diameterB), apart.Millimeters()).Henries;
        Circles.HoldRatio(expected, ours);
    }

    [Fact]
    public void Signs_and_symmetry()
    {
        Coil coil = Bench(180);

        // Side by side, the flux of one returns through the other; stacked along the axis, it passes on.
        Assert.True(MutualInductance.Between(coil, coil, 32.Millimeters()).Henries < 0);
        Assert.True(MutualInductance.Between(coil, coil, Length.Zero, 8.Millimeters(), Length.Zero).Henries > 0);
        Assert.Equal(
            MutualInductance.Between(coil, coil, 40.Millimeters()).Henries,
            MutualInductance.Between(coil, coil, (-40).Millimeters()).Henries,
            1e-15);

        // One in the place of the other is the coil itself.
        Assert.Equal(1, MutualInductance.CouplingFactor(coil, coil, Length.Zero), 1e-12);
        Assert.InRange(MutualInductance.CouplingFactor(coil, coil, 32.Millimeters()), -0.15, -0.02);
    }

    /// <summary>A coil along the track and one across it see the same neighbor, if that is moved along their own axes.</summary>
    [Fact]
    public void Axes_turn_with_the_coil()
    {
        double across = MutualInductance.Between(Bench(100), Bench(180), 5.Millimeters(), 9.Millimeters(), 3.Millimeters()).Henries;
        double along = MutualInductance.Between(
            Bench(100, TrackAxis.Along), Bench(180, TrackAxis.Along), 9.Millimeters(), (-5).Millimeters(), 3.Millimeters()).Henries;
        Assert.Equal(across, along, 1e-18);
        Assert.True(MutualInductance.Between(Bench(100, TrackAxis.Along), Bench(100, TrackAxis.Along), 10.Millimeters()).Henries > 0);
        Assert.Contains(
            "only parallel axes",
            Assert.Throws<ArgumentOutOfRangeException>(
                () => MutualInductance.Between(Bench(100), Bench(100, TrackAxis.Along), 30.Millimeters())).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Turns_count_once_for_each_coil()
    {
        // Complete layers of one geometry: 12 turns of 1 mm and 48 of 0.5 mm, both bare, 3 mm deep in 4 mm.
        CoilFormer former = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 4.Millimeters());
        Coil few = Coil.Wind(Wire.Copper(WireGauge.Metric(1.Millimeters()), EnamelGrade.Bare), former, 12);
        Coil many = Coil.Wind(Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Bare), former, 48);
        double m = MutualInductance.Between(few, few, 30.Millimeters()).Henries;
        Assert.Equal(1, MutualInductance.Between(few, many, 30.Millimeters()).Henries / (4 * m), 1e-12);
        Assert.Equal(1, MutualInductance.Between(many, many, 30.Millimeters()).Henries / (16 * m), 1e-12);
        Assert.Equal(1, many.Inductance.Henries / (16 * few.Inductance.Henries), 1e-12);
    }

    /// <summary>The correction for round wires shrinks against L as turns grow, and is of the size that E. B. Rosa's tables give (below 1 % from 100 turns).</summary>
    [Fact]
    public void Round_wires_add_little()
    {
        Coil coil = Bench(180);
        double share = coil.WireInductanceShare.Henries / coil.Inductance.Henries;
        Assert.InRange(share, 0.0005, 0.01);
        Assert.True(Bench(12).WireInductanceShare.Henries / Bench(12).Inductance.Henries > share);
    }

    /// <summary>
    /// A round coil turn by turn: loops with the inductance of round wire (μ₀ a (ln(8 a/(r e^(−1/4))) − 2)) and Maxwell's mutual inductances at the
    /// places of the turns. The even section plus the share of round wires meets it to a part in a thousand (layered) or two (orthocyclic); what is left is of order (diameter/radius)².
    /// </summary>
    [Theory]
    [InlineData(180, 0)]      // complete layers
    [InlineData(101, 0)]      // incomplete last layer
    [InlineData(104, 1)]      // orthocyclic
    public void Round_coil_turn_by_turn(int turns, int orthocyclic)
    {
        Coil coil = Coil.Wind(
            HalfMillimeter,
            CoilFormer.Round(12.Millimeters(), 7.Millimeters()),
            turns,
            orthocyclic == 1 ? WindingStyle.Orthocyclic : WindingStyle.Layered);
        (double Radius, double Z)[] rings = [.. coil.TurnPositions().Select(turn => (0.006 + turn.Depth.Meters, turn.Axial.Meters))];
        double sum = 0;
        for (int i = 0; i < rings.Length; i++)
        {
            (double a, double za) = rings[i];
            sum += a * (Math.Log(8 * a / (0.25e-3 * Math.Exp(-0.25))) - 2);
            for (int j = 0; j < i; j++)
            {
                (double b, double zb) = rings[j];
                double square = 4 * a * b / (((a + b) * (a + b)) + ((za - zb) * (za - zb)));
                double k = Math.Sqrt(square);
                (double first, double second) = Elliptic(square);
                sum += 2 * Math.Sqrt(a * b) * ((((2 / k) - k) * first) - (2 / k * second));
            }
        }

        double exact = PhysicalConstants.VacuumPermeability * sum;
        double ours = coil.Inductance.Henries + coil.WireInductanceShare.Henries;
        (orthocyclic == 0 ? TurnByTurnLayered : TurnByTurnOrthocyclic).HoldRatio(exact, ours, $"{turns} turns");
    }

    [Fact]
    public void Bad_offsets_are_errors()
        => Assert.ThrowsAny<ArgumentException>(() => MutualInductance.Between(Bench(10), Bench(10), double.NaN.Millimeters()));

    /// <summary>K and E of a parameter m by the arithmetic-geometric mean.</summary>
    private static (double K, double E) Elliptic(double m)
    {
        (double a, double g, double sum, double power) = (1, Math.Sqrt(1 - m), m, 1);
        for (int i = 0; i < 12; i++)
        {
            double c = 0.5 * (a - g);
            (a, g) = (0.5 * (a + g), Math.Sqrt(a * g));
            power *= 2;
            sum += power * c * c;
        }

        double first = Math.PI / (2 * a);
        return (first, first * (1 - (0.5 * sum)));
    }
}
