using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>Metal lost and launches left.</summary>
public class ContactWearTests
{
    /// <summary>1 C through arcs on silver at 2, 10 and 50 µg/C; 12 mm³ of silver weigh 0.12588 g: about thirteen thousand launches, within a factor of five.</summary>
    [Fact]
    public void Worked_by_hand()
    {
        var wear = new ContactWear(ContactMaterial.Silver, ElectricCharge.FromCoulombs(1));
        Assert.Equal(10e-9, wear.MassLost.Typical.Kilograms, 1e-20);
        ContactLife life = wear.LifeOf(Volume.FromCubicMillimeters(12));
        Assert.Equal(12588, life.Typical, 1e-6);
        Assert.Equal(12e-9 * 10400 / 50e-9, life.Least, 1e-9);
        Assert.Equal(12e-9 * 10500 / 2e-9, life.Greatest, 1e-6);
        Assert.Equal("13,000 launches (2,500 to 63,000)", life.ToString());
    }

    [RepeatableProperty]
    public void Twice_the_charge_half_the_life(ushort a, ushort b)
    {
        ElectricCharge charge = ElectricCharge.FromCoulombs(1e-4 * (a + 1));
        Volume volume = Volume.FromCubicMillimeters(0.1 + (b / 100.0));
        ContactLife one = new ContactWear(ContactMaterial.SilverGraphite, charge).LifeOf(volume);
        ContactLife two = new ContactWear(ContactMaterial.SilverGraphite, 2 * charge).LifeOf(volume);
        Assert.Equal(2, one.Typical / two.Typical, 1e-12);
        Assert.True(one.Least < one.Typical && one.Typical < one.Greatest);

        // The spread is a factor of several, and says so.
        Assert.True(one.Greatest / one.Least > 20);
    }

    [Fact]
    public void No_arc_no_wear()
    {
        ContactLife life = new ContactWear(ContactMaterial.Copper, ElectricCharge.Zero).LifeOf(Volume.FromCubicMillimeters(1));
        Assert.Equal(double.PositiveInfinity, life.Least);
        Assert.Equal("any number of launches", life.ToString());
        Assert.Contains("less than one", new ContactWear(ContactMaterial.Copper, ElectricCharge.FromCoulombs(1e9)).LifeOf(Volume.FromCubicMillimeters(1)).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new ContactWear(ContactMaterial.Copper, ElectricCharge.FromCoulombs(-1)));
        Assert.Throws<ArgumentNullException>(() => new ContactWear(null!, ElectricCharge.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ContactWear(ContactMaterial.Copper, ElectricCharge.Zero).LifeOf(Volume.Zero));
    }
}
