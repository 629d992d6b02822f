using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Power;

/// <summary>Sources, leads and switch as they stand in a whole launch.</summary>
public class PowerTests
{
    [Fact]
    public void A_bank_holds_half_c_v_squared()
    {
        var bank = new CapacitorBank(22.Millifarads(), 50.Volts(), 20.Milliohms());
        Assert.Equal(0.5 * 0.022 * 50 * 50, bank.StoredEnergy.Joules, 1e-12);
        Assert.Contains("27.5 J", bank.ToString(), StringComparison.Ordinal);
    }

    /// <summary>1 m of 1 mm² copper has 17.24 mohm (IEC 60028: resistivity 1/58 ohm mm²/m at 20 °C).</summary>
    [Fact]
    public void Copper_leads()
        => Assert.Equal(2 * 1.5 / 58, Leads.OfCopper(3.Meters(), 1e-2.SquareCentimeters()).Resistance.Ohms, 2e-5);

    /// <summary>A launch draws no more than the bank holds; a bank of a thousand farads is a battery.</summary>
    [Fact]
    public void A_bank_gives_what_it_loses_and_a_vast_one_is_a_battery()
    {
        Launcher launcher = LaunchBench.Whole(6);
        var bank = new CapacitorBank(10.Millifarads(), 37.Volts(), 45.Milliohms());
        LaunchResult small = LaunchBench.Launch(launcher with { Source = bank });
        Assert.True(small.Ledger.Drawn < bank.StoredEnergy);
        LaunchResult vast = LaunchBench.Launch(launcher with { Source = new CapacitorBank(1e7.Farads(), 37.Volts(), 45.Milliohms()) }, LaunchBench.Fine);
        LaunchResult battery = LaunchBench.Launch(launcher, LaunchBench.Fine);
        Assert.Equal(battery.ExitSpeed.MetersPerSecond, vast.ExitSpeed.MetersPerSecond, 1e-7);
        Assert.True(small.EndSpeed < battery.ExitSpeed);
    }

    /// <summary>Resistance counts alike wherever it stands on the way to the strips.</summary>
    [Fact]
    public void Source_leads_and_switch_are_in_series()
    {
        Launcher launcher = LaunchBench.Whole(4) with { Leads = Leads.Ideal, Switch = StartSwitch.Ideal, Source = new BenchSupply(30.Volts(), outputResistance: 0.2.Ohms()) };
        double one = LaunchBench.Launch(launcher).ExitSpeed.MetersPerSecond;
        double two = LaunchBench.Launch(launcher with { Source = new BenchSupply(30.Volts()), Leads = new Leads(0.2.Ohms()) }).ExitSpeed.MetersPerSecond;
        double three = LaunchBench.Launch(launcher with { Source = new BatteryPack(30.Volts(), 0.1.Ohms(), 1.AmpereHours()), Switch = new StartSwitch(0.1.Ohms()) }).ExitSpeed.MetersPerSecond;
        Assert.Equal(one, two, 1e-12);
        Assert.Equal(one, three, 1e-12);
    }

    /// <summary>A limit that is never reached changes nothing; one that binds is kept to.</summary>
    [Fact]
    public void A_current_limit_binds_or_does_nothing()
    {
        Launcher launcher = LaunchBench.Whole(6) with { Source = new BenchSupply(37.Volts()) };
        LaunchResult free = LaunchBench.Launch(launcher);
        LaunchResult wide = LaunchBench.Launch(launcher with { Source = new BenchSupply(37.Volts(), 100.Amperes()) });
        LaunchResult tight = LaunchBench.Launch(launcher with { Source = new BenchSupply(37.Volts(), 8.Amperes()) });
        Assert.Equal(free.ExitSpeed.MetersPerSecond, wide.ExitSpeed.MetersPerSecond, 1e-7);
        Assert.True(free.PeakCurrent.Amperes > 8);
        Assert.True(tight.ExitSpeed < free.ExitSpeed);
        Assert.Equal(8, tight.PeakCurrent.Amperes, 1e-6);
    }

    /// <summary>Equality goes by value, whatever unit was typed.</summary>
    [Fact]
    public void Equal_by_value()
    {
        Assert.Equal(new BenchSupply(1.Volts()), new BenchSupply(1000.Millivolts()));
        Assert.Equal(new StartSwitch(1.Milliohms(), [1.Milliseconds(), 2.Milliseconds()]), new StartSwitch(0.001.Ohms(), [1000.Microseconds(), 2.Milliseconds()]));
        Assert.NotEqual(new StartSwitch(1.Milliohms()), new StartSwitch(1.Milliohms(), [1.Milliseconds(), 2.Milliseconds()]));
        Assert.Equal(Suppressor.Clamp(40.Volts()), Suppressor.Clamp(0.04e3.Volts()));
    }

    /// <summary>Maximum power transfer: no load gets more than V²/(4 R), and one of the pack's own resistance gets it (any textbook of circuits).</summary>
    [Fact]
    public void A_pack_gives_most_to_a_load_of_its_own_resistance()
    {
        var pack = new BatteryPack(24.Volts(), 120.Milliohms(), 2.AmpereHours());
        double most = (double)pack.GreatestPower.Watts;
        Assert.Equal(1200, most, 1e-9);
        foreach (double load in new[] { 0.01, 0.06, 0.12, 0.13, 0.5, 5 })
        {
            double current = 24 / (load + 0.12);
            Assert.True(current * current * load <= most * (1 + 1e-14));
            Assert.Equal(load == 0.12, current * current * load > 0.9999 * most);
        }
    }
}
