using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Studies;

/// <summary>What limits a launch: elasticities against exact laws of the equations.</summary>
public class InfluenceTests
{
    private static Launcher Bare => LaunchBench.Whole() with
    {
        Contacts = ContactCommutator.For(LaunchBench.TrackOf(10), LaunchBench.Coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters(), 4.Milliohms(), Force.Zero)),
        Sled = new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(0.12, 0.18) },
    };

    /// <summary>
    /// L i' = u − R i − K v and m v' = K i − µ m g keep their motion if K, every voltage and the root of the mass grow by one factor, so that the
    /// elasticities to remanence, source and clamp voltage and twice that to the whole mass add up to zero; and that to the whole mass is that to the payload times
    /// whole over payload.
    /// </summary>
    [Fact]
    public void Elasticities_obey_the_scaling_of_the_equations()
    {
        Launcher launcher = Bare;
        Influences found = Influences.Of(launcher);
        double whole = launcher.MovingMass / launcher.Payload.Mass;
        double sum = Of(DesignNumber.Remanence) + Of(DesignNumber.Voltage) + Of(DesignNumber.ClampVoltage) + (2 * whole * Of(DesignNumber.PayloadMass));

        Assert.InRange(Of(DesignNumber.Voltage), 0.2, 1);
        Assert.InRange(Of(DesignNumber.PayloadMass), -0.5, -0.1);
        Assert.Equal(0, sum, 2e-4);
        Assert.All(found.All.Where(one => !one.Number.IsWhole && one.Number != DesignNumber.Gauge), one => Assert.InRange(one.Error, 0, 2e-3));

        // Carriage and payload are one mass.
        Assert.Equal(
            Of(DesignNumber.PayloadMass) / launcher.Payload.Mass.Kilograms, Of(DesignNumber.CarriageMass) / launcher.Sled.Mass.Kilograms, 2e-3);

        // Resistances in series are one resistance, and either brush carries its own.
        double perOhm = Of(DesignNumber.SourceResistance) / 0.045;
        Assert.Equal(perOhm, Of(DesignNumber.LeadResistance) / 0.012, 5e-3);

        double Of(DesignNumber number) => found.All.Single(one => one.Number == number).Elasticity;
    }

    [Fact]
    public void The_strongest_comes_first_and_is_said_in_words()
    {
        Influences found = Influences.Of(Bare);
        Assert.Equal(found.All.Select(one => Math.Abs(one.Elasticity)).OrderDescending(), found.All.Select(one => Math.Abs(one.Elasticity)));
        string text = found.ToString();
        Assert.StartsWith($"What limits this launch of {found.ExitSpeed.MetersPerSecond:G4} m/s, the strongest first:", text, StringComparison.Ordinal);
        Assert.Contains("voltage (37 V): 1 % more makes the payload 0.", text, StringComparison.Ordinal);
        Assert.Contains("turns (180): 1 % more makes the payload", text, StringComparison.Ordinal);
        Assert.Contains("taken between 179 and 181", text, StringComparison.Ordinal);
        Assert.Contains("taken between 0.45 mm and 0.56 mm", text, StringComparison.Ordinal);
    }

    /// <summary>Turns go one up and one down, the lead against the pitch.</summary>
    [Fact]
    public void Whole_numbers_and_the_lead()
    {
        Influences found = Influences.Of(Bare, [DesignNumber.Turns, DesignNumber.Lead, DesignNumber.Stations]);
        double Speed(Launcher launcher) => launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-10 }).ExitSpeed.MetersPerSecond;
        double Of(DesignNumber number) => found.All.Single(one => one.Number == number).Elasticity;

        double turns = Math.Log(Speed(DesignNumber.Turns.With(Bare, 181)) / Speed(DesignNumber.Turns.With(Bare, 179))) / Math.Log(181.0 / 179);
        Assert.Equal(turns, Of(DesignNumber.Turns), 1e-5);
        double stations = Math.Log(Speed(DesignNumber.Stations.With(Bare, 11)) / Speed(DesignNumber.Stations.With(Bare, 9))) / Math.Log(11.0 / 9);
        Assert.Equal(stations, Of(DesignNumber.Stations), 1e-6);
        double lead = Math.Log(Speed(DesignNumber.Lead.With(Bare, 0.52.Millimeters())) / Speed(DesignNumber.Lead.With(Bare, 0.48.Millimeters()))) / (0.04 / 20);
        Assert.Equal(lead, Of(DesignNumber.Lead), 5e-3);
    }

    /// <summary>Beyond a wall the difference goes one way; where nothing goes, it says why.</summary>
    [Fact]
    public void Walls_are_said()
    {
        DesignNumber<double> wall = DesignNumber.OfNumber("wall", (launcher, value) => value > 1 ? throw new InvalidOperationException("a wall") : DesignNumber.Voltage.With(launcher, (37 * value).Volts()), _ => 1);
        DesignNumber<double> box = DesignNumber.OfNumber("box", (launcher, value) => value != 1 ? throw new InvalidOperationException("a box") : launcher, _ => 1);
        Influences found = Influences.Of(Bare, [box, wall, DesignNumber.Voltage]);
        Assert.Equal("box", found.All[^1].Number.Name);
        Assert.Contains("neither less nor more of it can be launched: a box", found.All[^1].ToString(), StringComparison.Ordinal);
        Influence walled = found.All.Single(one => one.Number == wall);
        Assert.Contains("more of it cannot be launched: a wall", walled.ToString(), StringComparison.Ordinal);
        Assert.Equal(found.All.Single(one => one.Number == DesignNumber.Voltage).Elasticity, walled.Elasticity, 0.01);
    }

    [Fact]
    public void A_launch_without_exit_speed_has_no_influences()
        => Assert.Throws<InvalidOperationException>(() => Influences.Of(DesignNumber.Voltage.With(DesignNumber.Friction.With(Bare, 1.3), 0.1.Volts())));
}
