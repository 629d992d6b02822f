using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What a launcher says of parts that do not go together, each alone and right at its limit, and the numbers that its parts make together.</summary>
public sealed class LauncherRuleTests
{
    private static readonly Launcher Whole = LaunchBench.Whole(4);

    // A coil on the middle of a station is fed where its strip begins; the default start lies a brush's length in.
    private static double StartMillimeters => Whole.TravelEnds().Start.Millimeters;

    private static double ReleaseMillimeters => Whole.TravelEnds().Release.Millimeters;

    [Fact]
    public void Bus_bars_reach_along_the_whole_way()
    {
        Assert.Equal(LauncherFaults(0, 1000), []);
        Assert.Empty(LauncherFaults(StartMillimeters, ReleaseMillimeters));
        Assert.Contains("must reach along the whole way", Assert.Single(LauncherFaults(StartMillimeters + 1, 1000)), StringComparison.Ordinal);
        Assert.Contains("must reach along the whole way", Assert.Single(LauncherFaults(0, ReleaseMillimeters - 1)), StringComparison.Ordinal);

        static IEnumerable<string> LauncherFaults(double from, double to)
            => (Whole with { BusBars = new BusBars(10.Milliohms(), from.Millimeters(), to.Millimeters()) }).Validate().Select(fault => fault.ToString());
    }

    [Fact]
    public void A_clamp_lies_above_the_source()
    {
        Assert.Contains("the clamp at 37 V must lie above the source's 37 V", Fault(Whole with { Suppressor = Suppressor.Clamp(37.Volts()) }), StringComparison.Ordinal);
        Assert.Empty((Whole with { Suppressor = Suppressor.Clamp(37.01.Volts()) }).Validate());
    }

    [Fact]
    public void An_arc_that_depends_on_its_current_and_a_resistor_across_the_coil_are_not_computed_together()
    {
        ArcCharacteristic column = ArcCharacteristic.Of(ContactMaterial.Copper);
        foreach (Suppressor across in (Suppressor[])[Suppressor.Resistor(10.Ohms()), Suppressor.SeriesRC(10.Ohms(), 1.Microfarads())])
        {
            Assert.Contains("depends on the current", Fault(Whole with { Arc = ArcCharacteristic.Ayrton, Suppressor = across }), StringComparison.Ordinal);
            Assert.Empty((Whole with { Arc = column, Suppressor = across }).Validate());
        }

        Assert.Empty((Whole with { Arc = ArcCharacteristic.Ayrton, Suppressor = Suppressor.Clamp(60.Volts()) }).Validate());
        Assert.Empty((Whole with { Arc = ArcCharacteristic.Ayrton, Suppressor = Suppressor.IdealBreak }).Validate());
    }

    [Fact]
    public void A_brake_begins_at_the_release_or_beyond_it()
    {
        Assert.Empty((Whole with { Brake = SledBrake.Friction(0.Millimeters(), 100.Millimeters(), 5.Newtons()) }).Validate());
        Assert.Contains("starts 1 mm before the release", Fault(Whole with { Brake = SledBrake.Friction((-1).Millimeters(), 100.Millimeters(), 5.Newtons()) }), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_lies_farther_than_a_kilometer_away()
    {
        Assert.Contains("no bench is longer", Fault(Whole with { Release = 1001.Meters() }), StringComparison.Ordinal);
        Assert.Empty((Whole with { Release = 999.Meters() }).Validate());
    }

    [Fact]
    public void A_coil_starts_on_the_track()
    {
        // Half a pitch before the first station and half a pitch beyond the last, each still on it.
        Launcher pushed = Whole with { StartSpeed = 1.MetersPerSecond(), Release = 200.Millimeters() };
        Assert.Empty((pushed with { Start = (-9.99).Millimeters() }).Validate());
        Assert.Contains("starts outside the track", Fault(pushed with { Start = (-10.01).Millimeters() }), StringComparison.Ordinal);
        Assert.Empty((pushed with { Start = 69.99.Millimeters() }).Validate());
        Assert.Contains("starts outside the track", Fault(pushed with { Start = 70.01.Millimeters() }), StringComparison.Ordinal);

        // Of several coils one is enough.
        Launcher two = pushed with { Sled = new Sled(25.Grams(), [new CoilMount(LaunchBench.Coil, (-40).Millimeters()), new CoilMount(LaunchBench.Coil, 0.Millimeters(), circuit: 1)]) };
        Assert.Empty((two with { Start = 100.Millimeters() }).Validate());
        Assert.Contains("starts outside the track", Fault(two with { Start = 111.Millimeters() }), StringComparison.Ordinal);
        Assert.Empty((two with { Start = (-9).Millimeters() }).Validate());
        Assert.Contains("starts outside the track", Fault(two with { Start = (-11).Millimeters() }), StringComparison.Ordinal);
    }

    [Fact]
    public void Coils_with_their_axes_either_way_are_not_computed_together()
    {
        Coil along = Coil.Wind(LaunchBench.Coil.Wire, CoilFormer.Round(6.Millimeters(), 7.Millimeters()), 20, axis: TrackAxis.Along);
        Launcher mixed = Whole with { Sled = new Sled(25.Grams(), [new CoilMount(LaunchBench.Coil, 0.Millimeters()), new CoilMount(along, 60.Millimeters(), circuit: 1)]) };
        Assert.Contains(mixed.Validate(), fault => fault.Message.Contains("some coils have their axis along the track and some across", StringComparison.Ordinal));
        Launcher alike = Whole with { Sled = new Sled(25.Grams(), [new CoilMount(LaunchBench.Coil, 0.Millimeters()), new CoilMount(LaunchBench.Coil, 60.Millimeters(), circuit: 1)]) };
        Assert.DoesNotContain(alike.Validate(), fault => fault.Message.Contains("axis", StringComparison.Ordinal));
    }

    [Fact]
    public void Magnets_bear_their_service_temperature_and_no_more()
    {
        double most = MagnetGrade.N42.GreatestServiceTemperature.DegreesCelsius;
        Assert.Empty((Whole with { MagnetTemperature = Temperature.FromDegreesCelsius(most - 0.01) }).Validate());
        Assert.Contains("above, it loses remanence for good", Fault(Whole with { MagnetTemperature = Temperature.FromDegreesCelsius(most + 0.01) }), StringComparison.Ordinal);
        Assert.Equal(-40, (Whole with { MagnetTemperature = Temperature.FromDegreesCelsius(-40) }).MagnetTemperature.DegreesCelsius, 1e-9);
    }

    /// <summary>Which brush bridges is told; one place is a place; a battery of 37 V behind 45 + 12 + 6 mohm and four times a brush of 5 mohm drives 446 A, a supply as much as it lets.</summary>
    [Fact]
    public void The_bridging_brush_is_named_with_what_it_draws()
    {
        Brush brush = new(3.Millimeters(), 5.Milliohms());
        foreach (bool upper in (bool[])[true, false])
        {
            var contacts = new ContactCommutator(Line(upper ? 14 : 17, Bus.Minus, Bus.Plus), Line(upper ? 17 : 14, Bus.Plus, Bus.Minus), brush);
            string fault = Fault(Whole with { Contacts = contacts });
            Assert.Contains($"the {(upper ? "upper" : "lower")} brush of 3 mm bridges strips of opposite rails in 1 place, first with the sled at 12.5 mm", fault, StringComparison.Ordinal);
            Assert.Contains("about 445.8 A. The brush must be shorter than the shortest such gap, 2 mm.", fault, StringComparison.Ordinal);
            Launcher supplied = Whole with { Contacts = contacts, Source = new BenchSupply(37.Volts(), 20.Amperes()), Leads = new Leads(0.Ohms()), Switch = new StartSwitch(0.Ohms()) };
            Assert.Contains("about 20 A.", Fault(supplied), StringComparison.Ordinal);
        }

        // One fault alone is told without a count.
        Launcher one = Whole with { Release = 1001.Meters() };
        Assert.DoesNotContain("faults)", Assert.Throws<LauncherDescriptionException>(() => one.Launch()).Message, StringComparison.Ordinal);
        Assert.Empty(new LauncherDescriptionException([]).Faults);

        static ContactLine Line(double second, Bus first, Bus then) => new([new ContactStrip(0.Millimeters(), 12.Millimeters(), first), new ContactStrip(second.Millimeters(), 32.Millimeters(), then)]);
    }

    [Fact]
    public void The_numbers_of_the_parts_together()
    {
        Launcher launcher = Whole with
        {
            Slope = Angle.FromDegrees(30),
            CoilsWarmUp = true,
            CoilTemperature = Temperature.FromDegreesCelsius(40),
            Brake = SledBrake.Friction(50.Millimeters(), 120.Millimeters(), 5.Newtons()),
        };
        LauncherSi si = launcher.ToSi(LaunchOptions.Default);
        double sled = launcher.Sled.MassWithCoils.Kilograms, mass = sled + 0.040;
        Assert.Equal(mass, si.Mass, 1e-12);
        Assert.Equal(mass * 9.80665 * 0.5, si.SlopeForce, 1e-12);
        double normal = (mass * 9.80665 * Math.Sqrt(0.75)) + (2 * 0.8);
        Assert.Equal(0.12 * normal, si.SlidingFriction, 1e-12);
        Assert.Equal(0.18 * normal, si.RestFriction, 1e-12);
        Assert.Equal(0.045 + 0.012 + 0.006, si.SourceResistance, 1e-12);

        // After the release the payload is gone.
        double alone = (sled * 9.80665 * Math.Sqrt(0.75)) + (2 * 0.8);
        Assert.Equal(sled, si.Braking!.Mass, 1e-12);
        Assert.Equal(0.12 * alone, si.Braking.SlidingFriction, 1e-12);
        Assert.Equal(0.18 * alone, si.Braking.RestFriction, 1e-12);
        Assert.Equal(sled * 9.80665 * 0.5, si.Braking.SlopeForce, 1e-12);
        Assert.Equal(si.Release + 0.170, si.Braking.TrackEnd, 1e-12);

        // A pitch of 20 mm behind the start the run is given up; the curve reaches a pitch beyond that and beyond the end, in whole pitches from the first station.
        Assert.Equal(si.Start - 0.020, si.BackLimit, 1e-12);
        Assert.InRange(si.Circuits[0].Curve.From, si.BackLimit - 0.0401, si.BackLimit - 0.0199);
        Assert.InRange(si.Circuits[0].Curve.To, si.Braking.TrackEnd + 0.0199, si.Braking.TrackEnd + 0.0401);
        Assert.Equal(Math.Round(si.Circuits[0].Curve.From / 0.020), si.Circuits[0].Curve.From / 0.020, 1e-9);

        // Copper: α at 20 °C, so R(40 °C) = R₂₀ (1 + 20 α), and the growth is α R₂₀/C.
        Coil coil = LaunchBench.Coil;
        double alpha = coil.Wire.Conductor.TemperatureCoefficient.PerKelvin;
        Assert.Equal(coil.Resistance.Ohms * (1 + (20 * alpha)), si.Circuits[0].CoilResistance, 1e-12);
        CoilHeatSi heat = Assert.Single(si.Circuits[0].Heating);
        Assert.Equal(alpha * coil.Resistance.Ohms / coil.HeatCapacity, heat.Growth, 1e-15);
        Assert.Equal(coil.Inductance.Henries, Assert.Single(si.Inductances), 1e-15);
        Assert.Null(si.Circuits[0].Across);
        Assert.Null(si.Circuits[0].Up);
    }

    /// <summary>Two coils in series make L = L₁ + L₂ ± 2 M by their sense; on circuits of their own the mutual inductance stands aside the diagonal, with the sign of both senses.</summary>
    [Fact]
    public void Inductances_by_circuit_and_sense()
    {
        Coil coil = LaunchBench.Coil;
        double self = coil.Inductance.Henries, mutual = MutualInductance.Between(coil, coil, 40.Millimeters()).Henries;
        Assert.True(Math.Abs(mutual) > 1e-3 * self);
        Assert.Equal([2 * (self + mutual)], Of(0, WindingSense.Plain, 0, WindingSense.Plain), Close);
        Assert.Equal([2 * (self + mutual)], Of(0, WindingSense.Crossed, 0, WindingSense.Crossed), Close);
        Assert.Equal([2 * (self - mutual)], Of(0, WindingSense.Plain, 0, WindingSense.Crossed), Close);
        Assert.Equal([self, mutual, mutual, self], Of(0, WindingSense.Plain, 1, WindingSense.Plain), Close);
        Assert.Equal([self, -mutual, -mutual, self], Of(0, WindingSense.Plain, 1, WindingSense.Crossed), Close);

        static bool Close(double a, double b) => Math.Abs(a - b) < 1e-14;

        double[] Of(int circuit1, WindingSense sense1, int circuit2, WindingSense sense2)
            => (Whole with { Sled = new Sled(25.Grams(), [new CoilMount(coil, (-30).Millimeters(), sense1, circuit1), new CoilMount(coil, 10.Millimeters(), sense2, circuit2)]) }).ToSi(LaunchOptions.Default).Inductances;
    }

    /// <summary>Lateral forces are computed where they may be: with friction that counts them, and a coil off the middle to that side.</summary>
    [Theory]
    [InlineData(0, 0, false, false)]
    [InlineData(0.5, 0, true, false)]
    [InlineData(0, 0.5, false, true)]
    public void Lateral_forces_are_computed_for_the_side_that_a_coil_is_off(double across, double up, bool hasAcross, bool hasUp)
    {
        Sled Off(GuideFriction friction) => Whole.Sled with { Friction = friction, OffsetAcross = across.Millimeters(), OffsetUp = up.Millimeters() };
        CircuitSi circuit = (Whole with { Sled = Off(new GuideFriction(0.12, 0.18)) }).ToSi(LaunchOptions.Default).Circuits[0];
        Assert.Equal((hasAcross, hasUp), (circuit.Across is not null, circuit.Up is not null));
        foreach (GuideFriction none in (GuideFriction[])[new GuideFriction(0), new GuideFriction(0.12, 0.18) { CountsLateralForce = false }])
        {
            circuit = (Whole with { Sled = Off(none) }).ToSi(LaunchOptions.Default).Circuits[0];
            Assert.Equal((false, false), (circuit.Across is not null, circuit.Up is not null));
        }
    }

    /// <summary>The sled stands a brush's length behind the edge where it is first fed, or in the middle of a short strip; without a release it goes to the last edge of all circuits.</summary>
    [Fact]
    public void Where_a_sled_starts_and_ends_by_itself()
    {
        ContactCommutator contacts = LaunchBench.Commutator(3, (0, 16, Bus.Dead, Bus.Dead), (20, 36, Bus.Minus, Bus.Plus), (40, 56, Bus.Plus, Bus.Minus));
        (Length start, Length release) = (Whole with { Contacts = contacts }).TravelEnds();

        // The brush of 3 mm meets the strip at 20 mm with its middle 1.5 mm before it, and leaves the last at 56 mm when it is 1.5 mm beyond.
        Assert.Equal(18.5 + 3, start.Millimeters, 1e-9);
        Assert.Equal(57.5, release.Millimeters, 1e-9);

        ContactCommutator brief = LaunchBench.Commutator(3, (20, 21, Bus.Minus, Bus.Plus), (40, 56, Bus.Plus, Bus.Minus));
        Assert.Equal(20.5, (Whole with { Contacts = brief }).TravelEnds().Start.Millimeters, 1e-9);

        ContactCommutator dead = LaunchBench.Commutator(3, (0, 16, Bus.Dead, Bus.Dead));
        Assert.Equal(0, (Whole with { Contacts = dead }).TravelEnds().Start.Millimeters, 1e-9);
        Assert.Equal(5, (Whole with { Contacts = contacts, Start = 5.Millimeters() }).TravelEnds().Start.Millimeters, 1e-9);

        // A second coil 30 mm ahead meets its first strip when the sled is 30 mm farther back, and the hindmost leaves last.
        Launcher two = Whole with { Contacts = contacts, Sled = new Sled(25.Grams(), [new CoilMount(LaunchBench.Coil, 0.Millimeters()), new CoilMount(LaunchBench.Coil, 30.Millimeters(), circuit: 1)]) };
        (start, release) = two.TravelEnds();
        Assert.Equal(18.5 + 3 - 30, start.Millimeters, 1e-9);
        Assert.Equal(57.5, release.Millimeters, 1e-9);
    }

    [Fact]
    public void Words_name_the_parts_that_are_there()
    {
        SledBrake brake = SledBrake.Friction(0.Millimeters(), 100.Millimeters(), 5.Newtons());
        var bars = new BusBars(10.Milliohms(), 0.Millimeters(), 1.Meters());
        Launcher full = Whole with { Brake = brake, BusBars = bars, Arc = ArcCharacteristic.Ayrton };
        Assert.Equal(Lines(Whole.Track, Whole.Sled, Whole.Contacts, Whole.Source, Whole.Payload!, Whole.Leads, Whole.Switch, Whole.Suppressor), Whole.ToString());
        Assert.Equal(Lines(Whole.Track, Whole.Sled, Whole.Contacts, Whole.Source, Whole.Payload!, Whole.Leads, bars, Whole.Switch, Whole.Suppressor, ArcCharacteristic.Ayrton, brake), full.ToString());

        static string Lines(params object[] parts) => string.Join(Environment.NewLine, parts);
    }

    private static string Fault(Launcher launcher) => Assert.Single(launcher.Validate()).ToString();

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Each_contact_line_is_in_order_and_is_named(bool upper)
    {
        ContactLine good = Whole.Contacts.Upper;
        ContactStrip second = good.Strips[1];
        ContactLine Moved(double back) => new([good.Strips[0], new ContactStrip(good.Strips[0].End - back.Millimeters(), second.End, second.Bus), .. good.Strips.Skip(2)]);
        LauncherFault[] Faults(ContactLine line)
            => [.. (Whole with { Contacts = new ContactCommutator(upper ? line : Whole.Contacts.Upper, upper ? Whole.Contacts.Lower : line, Whole.Contacts.UpperBrush) })
                .Validate().Where(fault => fault.Message.Contains("overlap", StringComparison.Ordinal))];
        LauncherFault fault = Assert.Single(Faults(Moved(0.1)));
        Assert.Equal(upper ? "upper contact line" : "lower contact line", fault.Parts);
        Assert.Contains("strips 0 and 1 are out of order or overlap", fault.Message, StringComparison.Ordinal);
        Assert.Empty(Faults(Moved(0)));
        Assert.Empty(Faults(Moved(-0.1)));
    }

    /// <summary>Two coils in series on one pair of brushes: their resistances add, and so do their curves, each seen from its place.</summary>
    [Fact]
    public void Coils_in_series_add()
    {
        Coil coil = LaunchBench.Coil;
        Launcher two = Whole with { Sled = new Sled(25.Grams(), [new CoilMount(coil, Length.Zero), new CoilMount(coil, 40.Millimeters())]) };
        Launcher one = Whole with { Sled = new Sled(25.Grams(), [new CoilMount(coil, Length.Zero)]) };
        CircuitSi both = Assert.Single(two.ToSi(LaunchOptions.Default).Circuits), single = Assert.Single(one.ToSi(LaunchOptions.Default).Circuits);
        Assert.Equal(2 * single.CoilResistance, both.CoilResistance, 1e-12);
        foreach (double x in (double[])[0.003, 0.011, 0.0171, 0.024])
        {
            Assert.Equal(single.Curve.At(x) + single.Curve.At(x + 0.04), both.Curve.At(x), 1e-6 * single.Curve.Peak);
        }
    }

    /// <summary>The force per ampere along the way is that of the drawing; there is one a circuit, and none beyond.</summary>
    [Fact]
    public void The_force_constant_of_a_result_is_that_of_its_circuit()
    {
        LaunchResult launch = LaunchBench.Launch(Whole);
        CircuitSi circuit = Whole.ToSi(LaunchOptions.Default).Circuits[0];
        Assert.Equal(circuit.Curve.At(0.013), launch.ForceConstantAt(13.Millimeters()).NewtonsPerAmpere, 1e-12);
        Assert.NotEqual(0, circuit.Curve.At(0.013));
        Assert.Throws<ArgumentOutOfRangeException>(() => launch.ForceConstantAt(13.Millimeters(), 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => launch.ForceConstantAt(13.Millimeters(), -1));
        Assert.Contains($"efficiency {(100 * launch.Efficiency).ToString("G3", System.Globalization.CultureInfo.InvariantCulture)} %", launch.ToString(), StringComparison.Ordinal);
        Assert.StartsWith($"exit speed {Show.Quantity(launch.ExitSpeed)} after {Show.Quantity(launch.ExitTime)}; ", launch.ToString(), StringComparison.Ordinal);
    }
}
