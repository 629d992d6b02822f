using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Each effect alone on a launcher that has no other: seen, and gone when it is taken away.</summary>
public class LaunchEffectTests
{
    private static readonly Launcher Bare = LaunchBench.Whole(2).Ideal();

    public static TheoryData<string> Names => [.. Alone.Keys];

    private static Dictionary<string, (Launcher Launcher, LaunchEffect[] Effects)> Alone => new()
    {
        ["nothing"] = (Bare, []),
        ["supply with resistance"] = (Bare with { Source = new BenchSupply(12.Volts(), null, 50.Milliohms()) }, [LaunchEffect.SourceResistance]),
        ["bank"] = (Bare with { Source = new CapacitorBank(20.Millifarads(), 30.Volts(), 0.Ohms()) }, [LaunchEffect.BankDischarge]),
        ["bank with resistance"] = (Bare with { Source = new CapacitorBank(20.Millifarads(), 30.Volts(), 20.Milliohms()) }, [LaunchEffect.SourceResistance, LaunchEffect.BankDischarge]),
        ["limit"] = (Bare with { Source = new BenchSupply(12.Volts(), limit: 10.Amperes()) }, [LaunchEffect.CurrentLimit]),
        ["leads"] = (Bare with { Leads = new Leads(10.Milliohms()) }, [LaunchEffect.Leads]),
        ["bars"] = (Bare with { BusBars = new BusBars(10.Milliohms(), 0.Meters(), 0.1.Meters(), BusFeed.Start) }, [LaunchEffect.BusBars]),
        ["bars without resistance"] = (Bare with { BusBars = new BusBars(0.Ohms(), 0.Meters(), 0.1.Meters(), BusFeed.Start) }, []),
        ["switch"] = (Bare with { Switch = new StartSwitch(5.Milliohms()) }, [LaunchEffect.SwitchResistance]),
        ["upper contact"] = (Brushes(With(4), With(0)), [LaunchEffect.ContactResistance]),
        ["lower contact"] = (Brushes(With(0), With(4)), [LaunchEffect.ContactResistance]),
        ["upper overlap"] = (Brushes(Growing(), With(0)), [LaunchEffect.ContactResistance, LaunchEffect.ContactOverlap]),
        ["lower overlap"] = (Brushes(With(0), Growing()), [LaunchEffect.ContactResistance, LaunchEffect.ContactOverlap]),
        ["upper drop"] = (Brushes(With(0) with { Drop = 0.5.Volts() }, With(0)), [LaunchEffect.BrushDrop]),
        ["lower drop"] = (Brushes(With(0), With(0) with { Drop = 0.5.Volts() }), [LaunchEffect.BrushDrop]),
        ["arc"] = (Bare with { Arc = ArcCharacteristic.Of(ContactMaterial.Copper) }, [LaunchEffect.Arc]),
        ["clamp"] = (Bare with { Suppressor = Suppressor.Clamp(60.Volts()) }, [LaunchEffect.Suppressor]),
        ["warm"] = (Bare with { CoilsWarmUp = true }, [LaunchEffect.CoilWarming]),
        ["friction"] = (Friction(new GuideFriction(0.1, 0.2)), [LaunchEffect.DryFriction]),
        ["friction at rest"] = (Friction(new GuideFriction(0, 0.2)), [LaunchEffect.DryFriction]),
        ["viscous"] = (Friction(new GuideFriction(0, 0, 0.01.Newtons())), [LaunchEffect.ViscousFriction]),
        ["drag"] = (Bare with { Sled = Bare.Sled with { DragArea = 10.SquareCentimeters() } }, [LaunchEffect.Drag]),
        ["drag in no air"] = (Bare with { Sled = Bare.Sled with { DragArea = 10.SquareCentimeters() }, AirDensity = Density.Zero }, []),
        ["uphill"] = (Bare with { Slope = 5.Degrees() }, [LaunchEffect.Slope]),
        ["downhill"] = (Bare with { Slope = (-5).Degrees() }, [LaunchEffect.Slope]),
    };

    private static Launcher Friction(GuideFriction friction) => Bare with { Sled = Bare.Sled with { Friction = friction } };

    private static Launcher Brushes(Brush upper, Brush lower) => Bare with { Contacts = new ContactCommutator(Bare.Contacts.Upper, Bare.Contacts.Lower, upper, lower) };

    private static Brush With(double milliohms) => new(3.Millimeters(), milliohms.Milliohms(), 0.8.Newtons());

    private static Brush Growing() => new(3.Millimeters(), new ContactResistance(3.Milliohms(), 2.Milliohms()), 0.8.Newtons());

    [Theory]
    [MemberData(nameof(Names))]
    public void An_effect_is_seen_alone_and_taken_away(string name)
    {
        (Launcher launcher, LaunchEffect[] effects) = Alone[name];
        Assert.Empty(launcher.Validate());
        Assert.Equal(effects, launcher.Effects().Order());
        foreach (LaunchEffect effect in Enum.GetValues<LaunchEffect>())
        {
            Assert.Equal(effects.Contains(effect), launcher.Has(effect));
            Launcher without = launcher.Without(effect);
            Assert.False(without.Has(effect));
            Assert.True(without.Effects().All(effects.Contains));
            if (!effects.Contains(effect))
            {
                Assert.Same(launcher, without);
            }
        }

        Assert.Empty(launcher.Ideal().Effects());
        Assert.Equal(launcher.Effects().Order(), launcher.WithOnly(effects).Effects().Order());
    }
}
