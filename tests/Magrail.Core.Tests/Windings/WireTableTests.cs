using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Wire against published copper wire tables, their misprints included.</summary>
public class WireTableTests
{
    private const double MetersPerInch = 0.0254;
    private const double MetersPerThousandFeet = 304.8;
    private const double KilogramsPerPound = 0.45359237;

    private const string Kuphaldt = "T. Kuphaldt, Lessons in Electric Circuits, copper wire table";
    private static readonly AccuracyRow Diameters = new("diameter of eight gauges", Kuphaldt, 4e-4, "of it (four digits)");
    private static readonly AccuracyRow Sections = new("section of eight gauges in circular mils", Kuphaldt, 5e-4, "of it (four digits)");
    private static readonly AccuracyRow Masses = new("mass of four gauges", Kuphaldt, 4e-4, "of it (four digits)");
    private static readonly AccuracyRow Resistances = new("resistance of eight gauges, ohm/km", "wp.1728.org, wire table", 1e-3, "of it (another resistivity)");
    private static readonly AccuracyRow ResistancesPerFoot = new("resistance of three gauges, ohm/1000 ft", "wp.1728.org, wire table", 6e-4, "of it");
    private static readonly AccuracyRow Overall = new("overall diameter of enameled wire, 27 sizes in three grades", "maker's table after IS 13730-0-1", 1, "µm above the table");

    /// <summary>Diameter in inches: T. Kuphaldt, Lessons in Electric Circuits, copper wire table (four digits).</summary>
    [Theory]
    [InlineData(10, 0.1019)]
    [InlineData(18, 0.04030)]
    [InlineData(20, 0.03196)]
    [InlineData(24, 0.02010)]
    [InlineData(28, 0.01264)]
    [InlineData(36, 0.005000)]
    [InlineData(40, 0.003145)]
    [InlineData(44, 0.001978)]
    public void Awg_diameter(int gauge, double inches)
    {
        double ours = WireGauge.Awg(gauge).BareDiameter.Meters / MetersPerInch;
        Diameters.HoldRatio(inches, ours, $"AWG {gauge}");
    }

    /// <summary>ASTM B258: d = 0.005 in · 92^((36 − n)/39), for every gauge; 0.46 in and 0.005 in exactly at its two ends.</summary>
    [Fact]
    public void Awg_follows_its_law()
    {
        for (int gauge = -3; gauge <= 44; gauge++)
        {
            double law = 0.005 * MetersPerInch * Math.Pow(92, (36 - gauge) / 39.0);
            Assert.Equal(1, WireGauge.Awg(gauge).BareDiameter.Meters / law, 1e-14);
        }

        Assert.Equal(0.46 * MetersPerInch, WireGauge.Awg(-3).BareDiameter.Meters, 1e-15);
        Assert.Equal(0.005 * MetersPerInch, WireGauge.Awg(36).BareDiameter.Meters, 1e-17);
    }

    /// <summary>The same table prints 0.01003 in for gauge 30; the law of ASTM B258 gives 0.010025, which rounds to 0.01003 or 0.01002.</summary>
    [Fact]
    public void Awg_30_sits_on_a_rounding_edge()
        => Assert.Equal(0.010025, WireGauge.Awg(30).BareDiameter.Meters / MetersPerInch, 5e-7);

    /// <summary>Section in circular mils (square of the diameter in thousandths of an inch): the same table.</summary>
    [Theory]
    [InlineData(10, 10380)]
    [InlineData(18, 1624)]
    [InlineData(20, 1022)]
    [InlineData(24, 404.0)]
    [InlineData(28, 159.8)]
    [InlineData(30, 100.5)]
    [InlineData(36, 25.00)]
    [InlineData(40, 9.888)]
    public void Awg_section(int gauge, double circularMils)
    {
        double mil = 1e-3 * MetersPerInch;
        double ours = WireGauge.Awg(gauge).Section.SquareMeters / (0.25 * Math.PI * mil * mil);
        Sections.HoldRatio(circularMils, ours, $"AWG {gauge}");
    }

    /// <summary>Gauges beyond 1: 4/0 is 0.46 in by the definition (ASTM B258).</summary>
    [Theory]
    [InlineData(-3, "AWG 4/0", 0.46)]
    [InlineData(0, "AWG 1/0", 0.3249)]
    public void Awg_of_the_oughts(int gauge, string name, double inches)
    {
        Assert.Equal(name, WireGauge.Awg(gauge).Name);
        Assert.Equal(inches, WireGauge.Awg(gauge).BareDiameter.Meters / MetersPerInch, 5e-5);
    }

    /// <summary>Mass in pounds per 1000 ft, bare: the same table.</summary>
    [Theory]
    [InlineData(10, 31.43)]
    [InlineData(20, 3.092)]
    [InlineData(30, 0.3042)]
    [InlineData(36, 0.07567)]
    public void Copper_mass(int gauge, double poundsPerThousandFeet)
        => Masses.HoldRatio(poundsPerThousandFeet, BareMass(gauge), $"AWG {gauge}");

    /// <summary>The table prints 1.233 lb for gauge 24: digits swapped. Its own diameter gives 1.223.</summary>
    [Fact]
    public void Copper_mass_of_gauge_24_is_misprinted()
    {
        Assert.Equal(1.223, BareMass(24), 5e-4);
        Assert.True(Math.Abs(BareMass(24) - 1.233) > 0.005);
    }

    /// <summary>Resistance in ohm/km at 20 °C: wp.1728.org, wire table (within 0.1 %; it uses a slightly different resistivity).</summary>
    [Theory]
    [InlineData(20, 33.29, 33.309)]
    [InlineData(22, 52.94, 52.963)]
    [InlineData(24, 84.20, 84.215)]
    [InlineData(26, 133.86, 133.907)]
    [InlineData(28, 212.87, 212.921)]
    [InlineData(30, 338.50, 338.557)]
    [InlineData(36, 1360.0, 1361.05)]
    [InlineData(40, 3440, 3441.1)]
    public void Copper_resistance(int gauge, double table, double byConductivityOf58)
    {
        double ours = Wire.Copper(WireGauge.Awg(gauge), EnamelGrade.Bare).ResistanceOf(Length.FromKilometers(1)).Ohms;
        Resistances.HoldRatio(table, ours, $"AWG {gauge}");
        Assert.Equal(1, ours / byConductivityOf58, 2e-5);
    }

    /// <summary>Resistance in ohm per 1000 ft: the same page.</summary>
    [Theory]
    [InlineData(20, 10.15)]
    [InlineData(24, 25.67)]
    [InlineData(30, 103.2)]
    public void Copper_resistance_per_thousand_feet(int gauge, double table)
        => ResistancesPerFoot.HoldRatio(
            table,
            Wire.Copper(WireGauge.Awg(gauge), EnamelGrade.Grade1).ResistanceOf(Length.FromMeters(MetersPerThousandFeet)).Ohms,
            $"AWG {gauge}");

    /// <summary>IEC 60028: 58 MS/m at 20 °C, 0.15328 ohm g/m² with 8.89 g/cm³, coefficient 3.93e-3; IEC 60287-1-1 Table 1: 1.7241e-8 ohm m.</summary>
    [Fact]
    public void Copper_is_the_international_standard()
    {
        double resistivity = Conductor.Copper.Resistivity.OhmMeters;
        Assert.Equal(58e6, 1 / resistivity, 1e-6);
        Assert.Equal(1.7241e-8, resistivity, 5e-13);
        Assert.Equal(0.15328, resistivity * Conductor.Copper.Density.GramsPerCubicMeter, 1e-5);
        Assert.Equal(3.93e-3, Conductor.Copper.TemperatureCoefficient.PerKelvin, 1e-12);

        // The coefficient is that of a straight line through zero at −234.5 °C, as the IEC has it.
        Assert.Equal(1 / (234.5 + 20), Conductor.Copper.TemperatureCoefficient.PerKelvin, 1e-6);

        // The older American value 0.15292 ohm g/m² is another convention, and not ours.
        Assert.True(Math.Abs((resistivity * Conductor.Copper.Density.GramsPerCubicMeter) - 0.15292) > 3e-4);

        // IEEE Std 80, table of material constants: 3.422 J/(cm³ K), 1083 °C.
        Assert.Equal(3.422, Conductor.Copper.VolumetricHeatCapacity.JoulesPerCubicMeterKelvin * 1e-6, 1e-9);
        Assert.Equal(385, Conductor.Copper.SpecificHeatCapacity.JoulesPerKilogramKelvin, 0.5);
        Assert.Equal(1083, Conductor.Copper.MeltingPoint.DegreesCelsius, 1e-9);
    }

    /// <summary>IEC 60287-1-1 Table 1: aluminum 2.826e-8 ohm m, 4.03e-3 per kelvin.</summary>
    [Fact]
    public void Aluminum_for_conductors()
    {
        Assert.Equal(2.826e-8, Conductor.Aluminum.Resistivity.OhmMeters, 5e-12);
        Assert.Equal(4.03e-3, Conductor.Aluminum.TemperatureCoefficient.PerKelvin, 1e-12);
    }

    /// <summary>Copper between 20 °C and 70 °C: 1 + 3.93e-3 · 50.</summary>
    [Fact]
    public void Resistance_rises_with_temperature()
    {
        Wire wire = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
        double cold = wire.ResistanceOf(1.Meters()).Ohms;
        Assert.Equal(1.1965, wire.ResistanceOf(1.Meters(), 70.DegreesCelsius()).Ohms / cold, 1e-12);
        Assert.Equal(1 / (58e6 * Math.PI * 0.25e-6 / 4), cold, 1e-12);
    }

    /// <summary>Copper-clad aluminum with 15 % copper lies between its parts and near their mixture (58 MS/m and 35.4 MS/m in parallel).</summary>
    [Fact]
    public void Copper_clad_aluminum_is_between_its_parts()
    {
        Conductor clad = Conductor.CopperCladAluminum;
        Assert.InRange(clad.Resistivity.OhmMeters, Conductor.Copper.Resistivity.OhmMeters, Conductor.Aluminum.Resistivity.OhmMeters);
        double mixture = 1 / ((0.15 / Conductor.Copper.Resistivity.OhmMeters) + (0.85 / Conductor.Aluminum.Resistivity.OhmMeters));
        Assert.Equal(1, clad.Resistivity.OhmMeters / mixture, 0.05);
        double density = (0.15 * Conductor.Copper.Density.KilogramsPerCubicMeter) + (0.85 * Conductor.Aluminum.Density.KilogramsPerCubicMeter);
        Assert.Equal(1, clad.Density.KilogramsPerCubicMeter / density, 0.002);
    }

    /// <summary>IEC 60317-0-1, Table 1, greatest overall diameters in mm of 0.2, 0.5, 1.0 mm wire: from memory.</summary>
    [Theory]
    [InlineData(0.2, EnamelGrade.Grade1, 0.226)]
    [InlineData(0.2, EnamelGrade.Grade2, 0.239)]
    [InlineData(0.5, EnamelGrade.Grade1, 0.544)]
    [InlineData(0.5, EnamelGrade.Grade2, 0.566)]
    [InlineData(1.0, EnamelGrade.Grade1, 1.062)]
    [InlineData(1.0, EnamelGrade.Grade2, 1.094)]
    [InlineData(0.1, EnamelGrade.Grade1, 0.117)]      // Elektrisola's table, quoted on enameled-wires.com: 0.108 mm to 0.117 mm
    [InlineData(0.5, EnamelGrade.Bare, 0.5)]
    public void Overall_diameter(double bare, EnamelGrade enamel, double overall)
        => Assert.Equal(overall, Wire.Copper(WireGauge.Metric(bare.Millimeters()), enamel).OverallDiameter.Millimeters, 1e-9);

    /// <summary>
    /// Avanti Conductor, diameters and increase in diameters of enameled round copper winding wires (SWG sizes, basis IS 13730-0-1): bare
    /// diameter and greatest overall diameters of grades 1, 2, 3, mm. Sizes between two preferred ones take the enamel of the thicker.
    /// </summary>
    [Theory]
    [InlineData(2.337, 2.415, 2.455, 2.493)]
    [InlineData(1.829, 1.903, 1.941, 1.977)]
    [InlineData(1.626, 1.698, 1.735, 1.770)]
    [InlineData(1.422, 1.492, 1.528, 1.562)]
    [InlineData(1.219, 1.285, 1.318, 1.350)]
    [InlineData(1.016, 1.080, 1.113, 1.144)]
    [InlineData(0.914, 0.976, 1.008, 1.038)]
    [InlineData(0.813, 0.872, 0.902, 0.931)]
    [InlineData(0.711, 0.766, 0.795, 0.822)]
    [InlineData(0.610, 0.659, 0.684, 0.708)]
    [InlineData(0.559, 0.605, 0.629, 0.652)]
    [InlineData(0.508, 0.554, 0.578, 0.601)]
    [InlineData(0.457, 0.501, 0.523, 0.544)]
    [InlineData(0.417, 0.458, 0.480, 0.500)]
    [InlineData(0.345, 0.382, 0.401, 0.418)]
    [InlineData(0.315, 0.349, 0.367, 0.384)]
    [InlineData(0.295, 0.329, 0.347, 0.364)]
    [InlineData(0.254, 0.286, 0.303, 0.319)]
    [InlineData(0.234, 0.265, 0.281, 0.296)]
    [InlineData(0.213, 0.241, 0.255, 0.269)]
    [InlineData(0.193, 0.219, 0.232, 0.245)]
    [InlineData(0.173, 0.197, 0.210, 0.222)]
    [InlineData(0.152, 0.174, 0.186, 0.197)]
    [InlineData(0.132, 0.152, 0.163, 0.173)]      // grades 2 and 3 printed 0.162 and 0.171: an intermediate size there
    [InlineData(0.122, 0.141, 0.151, 0.160)]
    [InlineData(0.112, 0.130, 0.139, 0.147)]
    [InlineData(0.102, 0.119, 0.128, 0.136)]      // grades printed so; ours by the next size, 0.120, 0.129, 0.137
    public void Overall_diameter_between_preferred_sizes(double bare, double grade1, double grade2, double grade3)
    {
        foreach ((EnamelGrade grade, double overall) in new[]
            { (EnamelGrade.Grade1, grade1), (EnamelGrade.Grade2, grade2), (EnamelGrade.Grade3, grade3) })
        {
            double ours = Wire.Copper(WireGauge.Metric(bare.Millimeters()), grade).OverallDiameter.Millimeters;
            Assert.InRange(ours, overall - 1e-9, overall + 0.001 + 1e-9);
            Overall.Hold(Math.Round((ours - overall) * 1e3, 6), $"{bare} mm, {grade}");
        }
    }

    /// <summary>Misprints of the same table: 2.642 mm wire cannot be 2.772, 2.764 and 3.083 mm in rising grades, nor 0.274 mm be 0.232 mm in grade 2.</summary>
    [Theory]
    [InlineData(2.642, EnamelGrade.Grade1, 2.772, 2.722)]
    [InlineData(2.642, EnamelGrade.Grade3, 3.083, 2.803)]
    [InlineData(2.032, EnamelGrade.Grade1, 2.018, 2.108)]
    [InlineData(0.376, EnamelGrade.Grade1, 0.417, 0.415)]
    [InlineData(0.274, EnamelGrade.Grade2, 0.232, 0.323)]
    public void Overall_diameter_where_the_table_is_misprinted(double bare, EnamelGrade grade, double printed, double meant)
    {
        double ours = Wire.Copper(WireGauge.Metric(bare.Millimeters()), grade).OverallDiameter.Millimeters;
        Assert.Equal(meant, ours, 1e-9);
        Assert.True(Math.Abs(ours - printed) > 1.5e-3);
    }

    /// <summary>Overall diameter grows with bare diameter and with grade, between the sizes of the table too.</summary>
    [Fact]
    public void Overall_diameter_is_monotone()
    {
        double[] last = new double[4];
        for (double bare = 0.02; bare <= 5; bare *= 1.003)
        {
            double thinner = 0;
            foreach (EnamelGrade grade in Enum.GetValues<EnamelGrade>())
            {
                double overall = Wire.Copper(WireGauge.Metric(bare.Millimeters()), grade).OverallDiameter.Millimeters;
                Assert.True(overall > last[(int)grade], $"{bare} mm {grade}");
                Assert.True(overall > thinner, $"{bare} mm {grade}");
                (last[(int)grade], thinner) = (overall, overall);
            }
        }
    }

    [Fact]
    public void Mass_counts_the_enamel()
    {
        Wire wire = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
        double copper = 8890 * Math.PI * 0.25e-6 / 4;
        double enamel = 1350 * Math.PI * ((0.566e-3 * 0.566e-3) - 0.25e-6) / 4;
        Assert.Equal(copper, wire.ConductorMassOf(1.Meters()).Kilograms, 1e-12);
        Assert.Equal(copper + enamel, wire.MassOf(1.Meters()).Kilograms, 1e-12);
    }

    [Theory]
    [InlineData(-4)]
    [InlineData(45)]
    public void A_gauge_that_does_not_exist_is_an_error(int gauge)
    {
        ArgumentOutOfRangeException error = Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Awg(gauge));
        Assert.Contains(gauge.ToString(System.Globalization.CultureInfo.InvariantCulture), error.Message, StringComparison.Ordinal);
        Assert.Contains("4/0", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wire_that_is_not_drawn_is_an_error()
    {
        Assert.Contains("13 mm", Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Metric(13.Millimeters())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Metric(Length.Zero));
        Assert.ThrowsAny<ArgumentException>(() => WireGauge.Metric(double.NaN.Millimeters()));
        Assert.Contains(
            "EnamelGrade.Bare",
            Assert.Throws<ArgumentOutOfRangeException>(() => Wire.Copper(WireGauge.Awg(-3), EnamelGrade.Grade1)).Message,
            StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Wire.Copper(WireGauge.Awg(20), (EnamelGrade)9));
    }

    [Fact]
    public void Wires_of_one_size_are_equal_whatever_the_unit()
        => Assert.Equal(
            Wire.Copper(WireGauge.Metric(Length.FromMicrometers(500)), EnamelGrade.Grade2),
            Wire.Copper(WireGauge.Metric(Length.FromMillimeters(0.5)), EnamelGrade.Grade2));

    private static double BareMass(int gauge)
        => Wire.Copper(WireGauge.Awg(gauge), EnamelGrade.Bare).MassOf(Length.FromMeters(MetersPerThousandFeet)).Kilograms / KilogramsPerPound;
}
