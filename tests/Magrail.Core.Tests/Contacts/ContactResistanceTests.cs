using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>Contact resistance against closed forms and the published contact drop of a carbon brush.</summary>
public class ContactResistanceTests
{
    private static readonly AccuracyRow Constriction = new("constriction resistance of a round spot", "flux through an electrified disc, J. C. Maxwell, Treatise, art. 151", 1e-6, "of it");
    private static readonly AccuracyRow BrushDrop = new("contact drop of an electrographite brush, about 1 V (the film is set to it)", "P. G. Slade (editor), Electrical Contacts, chapter abstract: ±0.2 V", 0.2, "V");

    /// <summary>
    /// One round spot: the spreading resistance of a half space below a disc at one potential is ρ/(4 a), here from the flux through the disc, ∫ E/ρ 2πr dr with
    /// the field E = 2 V/(π √(a² − r²)) of an electrified disc (J. C. Maxwell, Treatise, art. 151), integrated with r = a sin θ.
    /// </summary>
    [Fact]
    public void Constriction_is_that_of_a_disc_in_two_half_spaces()
    {
        const double Force = 2, Hardness = 400e6, RhoA = 1.6e-8, RhoB = 1 / 58e6;
        double a = Math.Sqrt(Force / (Math.PI * Hardness));
        double flux = 0;
        const int N = 2000;
        for (int k = 0; k < N; k++)
        {
            double theta = (k + 0.5) * Math.PI / 2 / N;
            flux += 2 / Math.PI * 2 * Math.PI * a * Math.Sin(theta) * Math.PI / 2 / N;
        }

        double ofHalfSpace = 1 / flux;
        ContactResistance contact = ContactResistance.Between(ContactMaterial.Silver, ContactMaterial.Copper, 2.Newtons());
        Constriction.HoldRatio((RhoA + RhoB) * ofHalfSpace, contact.Constriction.Ohms);

        // Alike: ρ/2 √(π H/F) (R. Holm, Electric Contacts).
        ContactResistance alike = ContactResistance.Between(ContactMaterial.Silver, ContactMaterial.Silver, 2.Newtons());
        Assert.Equal(RhoA / 2 * Math.Sqrt(Math.PI * Hardness / Force), alike.Constriction.Ohms, 1e-18);
        Assert.Equal(1e-12 * Hardness / Force, alike.Film.Ohms, 1e-18);
    }

    /// <summary>
    /// Drop of an electrographite brush: about 1 V ± 0.2 V (P. G. Slade (editor), Electrical Contacts, chapter abstract), here at the usual 10 A/cm² and 20 kPa
    /// (common practice, no source) on copper, where the film was set to meet it.
    /// </summary>
    [Fact]
    public void Drop_of_a_carbon_brush()
        => BrushDrop.HoldDifference(1, 10 * ContactResistance.Between(ContactMaterial.Electrographite, ContactMaterial.Copper, 2.Newtons()).Total.Ohms);

    /// <summary>A silver-graphite brush has far less: the trade says 0.1 V to 0.3 V (common practice, no source), and so says its range.</summary>
    [Fact]
    public void Silver_graphite_drops_less()
    {
        PropertyRange<ElectricResistance> range = ContactResistance.RangeBetween(ContactMaterial.SilverGraphite, ContactMaterial.Copper, 2.Newtons());
        Assert.True(20 * range.Least.Ohms < 0.1);
        Assert.InRange(20 * range.Greatest.Ohms, 0.1, 0.3);
        Assert.Equal(ContactResistance.Between(ContactMaterial.SilverGraphite, ContactMaterial.Copper, 2.Newtons()).Total, range.Typical);
    }

    /// <summary>A quarter of the brush is a contact of a quarter of the force with a quarter of the body's section.</summary>
    [Fact]
    public void Overlap_shares_the_force()
    {
        ContactMaterial brush = ContactMaterial.SilverGraphite, strip = ContactMaterial.Brass;
        ContactResistance full = ContactResistance.Between(brush, strip, 2.Newtons()).WithBody(brush, 8.Millimeters(), 0.12.SquareCentimeters());
        ContactResistance quarter = ContactResistance.Between(brush, strip, 0.5.Newtons()).WithBody(brush, 8.Millimeters(), 0.03.SquareCentimeters());
        Assert.Equal(1, full.At(0.25) / quarter.Total, 1e-12);
        Assert.Equal(1, full.At(1) / full.Total, 1e-12);
        Assert.Equal(1e-7 * 0.008 / 12e-6, full.Body.Ohms, 1e-12);
        Assert.Equal(full.Constriction.Ohms, full.ToSi().ByRoot);
        Assert.Equal(full.Film.Ohms + full.Body.Ohms, full.ToSi().ByOverlap, 1e-18);
    }

    [RepeatableProperty]
    public void More_force_less_resistance(ushort a)
    {
        Force less = (0.1 + (a / 1000.0)).Newtons();
        ContactResistance one = ContactResistance.Between(ContactMaterial.Copper, ContactMaterial.Copper, less);
        ContactResistance four = ContactResistance.Between(ContactMaterial.Copper, ContactMaterial.Copper, 4 * less);
        Assert.Equal(2, one.Constriction / four.Constriction, 1e-12);
        Assert.Equal(4, one.Film / four.Film, 1e-12);
        PropertyRange<ElectricResistance> range = ContactResistance.RangeBetween(ContactMaterial.Copper, ContactMaterial.Brass, less);
        Assert.True(range.Least < range.Greatest);
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        ContactMaterial copper = ContactMaterial.Copper;
        Assert.Throws<ArgumentOutOfRangeException>(() => ContactResistance.Between(copper, copper, 0.Newtons()));
        Assert.Throws<ArgumentNullException>(() => ContactResistance.Between(copper, null!, 1.Newtons()));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ContactResistance((-1).Ohms(), 0.Ohms()));
        var contact = new ContactResistance(1.Milliohms(), 2.Milliohms());
        Assert.Contains("above 0 to 1", Assert.Throws<ArgumentOutOfRangeException>(() => contact.At(0)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => contact.At(double.NaN));
        Assert.Equal(new ContactResistance(0.001.Ohms(), 0.002.Ohms()), contact);
        Assert.Contains("constriction 1 mohm", contact.ToString(), StringComparison.Ordinal);
    }
}
