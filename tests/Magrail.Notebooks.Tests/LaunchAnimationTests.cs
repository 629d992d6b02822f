using System.Globalization;
using System.Xml.Linq;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class LaunchAnimationTests
{
    private static readonly LaunchResult Launch = StudyLaunchers.Small.Launch();
    private static readonly LaunchAnimation Animation = LaunchCharts.Animation(Launch);

    [Fact]
    public void Its_moments_are_the_launch()
    {
        Assert.Equal(0, Animation.Moments[0].Time.Seconds);
        Assert.Equal(Launch.ExitTime.Seconds, Animation.Moments[^1].Time.Seconds, 1e-12);
        Assert.Equal(Launch.ExitSpeed.MetersPerSecond, Animation.Moments[^1].Speed.MetersPerSecond, 1e-9);
        Assert.InRange(Animation.Moments.Count, 200, 3000);
        Assert.Equal(Animation.SlowedBy * Launch.ExitTime.Seconds, Animation.Length.Seconds, 1e-9);
        Assert.InRange(Animation.Length.Seconds, 8, 30);
        Assert.Equal(40, LaunchCharts.Animation(Launch, 40).SlowedBy);
        Assert.Throws<ArgumentOutOfRangeException>(() => LaunchCharts.Animation(Launch, 0));
        Assert.Contains("times slower than in truth", Animation.ToText(), StringComparison.Ordinal);
        Assert.Contains(QuantityText.Of(Launch.ExitSpeed), Animation.Description, StringComparison.Ordinal);
        Assert.Equal(11 + 1, Animation.ToHtml().Split("<tr>").Length - 1);
    }

    /// <summary>All is drawn at one scale: magnets, strips, brushes and the two legs of the coil, where the parts say.</summary>
    [Fact]
    public void Everything_is_drawn_to_scale()
    {
        XElement svg = XElement.Parse(Animation.CloseUp());
        double scale = double.Parse(Parts(svg, "track").Single().Attribute("data-scale")!.Value, CultureInfo.InvariantCulture);
        Assert.Equal(100.0 / 20, scale, 1e-9);
        double Number(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);
        XElement[] strips = [.. svg.Descendants().Where(element => element.Attribute("class")?.Value.StartsWith("strip ", StringComparison.Ordinal) == true)];
        ContactStrip[] described = [.. Launch.Launcher.Contacts.Upper.Strips, .. Launch.Launcher.Contacts.Lower.Strips];
        Assert.Equal(described.Length, strips.Length);
        for (int i = 0; i < strips.Length; i++)
        {
            Assert.Equal(described[i].Start.Millimeters * scale, Number(strips[i], "x"), 0.01);
            Assert.Equal(described[i].Length.Millimeters * scale, Number(strips[i], "width"), 0.01);
            Assert.EndsWith(described[i].Bus == Bus.Plus ? "plus" : "minus", strips[i].Attribute("class")!.Value, StringComparison.Ordinal);
        }

        Assert.Equal(12, svg.Descendants().Count(element => element.Attribute("class")?.Value is "dark" or "light"));
        XElement[] brushes = Parts(svg, "brush");
        Assert.Equal(2, brushes.Length);
        Assert.All(brushes, brush => Assert.Equal(3 * scale, Number(brush, "width"), 0.01));

        // The legs stand on either side of the sled's mark, in the middle of the copper.
        Coil coil = Launch.Launcher.Sled.Coils[0].Coil;
        double middle = 0.5 * (coil.Former.Width + coil.Build).Millimeters * scale;
        double[] places = [.. Parts(svg, "leg").Select(leg => double.Parse(leg.Attribute("transform")!.Value.Split('(', ' ')[1], CultureInfo.InvariantCulture)).Order()];
        Assert.Equal([-middle, middle], places, new NearBy(0.02));
        Assert.Equal([1, -1], Parts(svg, "leg").OrderBy(leg => leg.Attribute("transform")!.Value.Contains("(-", StringComparison.Ordinal) ? 0 : 1).Select(leg => (int)Number(leg, "data-sign")));
    }

    /// <summary>
    /// The drawn current is the one that pushes: force on a leg by i l × B, from the sign of the current in the leg and of the field there, is along the computed force.
    /// </summary>
    [Fact]
    public void The_current_that_is_drawn_pushes_the_way_it_should()
    {
        XElement svg = XElement.Parse(Animation.CloseUp());
        LaunchSample strong = Animation.Moments.MaxBy(moment => moment.Force.Newtons)!;
        double scale = 100 / 0.020;
        double push = 0;
        foreach (XElement leg in Parts(svg, "leg"))
        {
            double along = strong.Position.Meters + (double.Parse(leg.Attribute("transform")!.Value.Split('(', ' ')[1], CultureInfo.InvariantCulture) / scale);
            double upward = int.Parse(leg.Attribute("data-sign")!.Value, CultureInfo.InvariantCulture) * strong.Currents[0].Amperes;
            double across = Launch.Launcher.Track.FluxDensityAt(Length.FromMeters(along), Length.Zero, Length.Zero).Across.Teslas;

            // z × y = −x.
            push += -upward * across;
        }

        Assert.True(push > 0, "The legs as drawn would push backward.");
        Assert.True(strong.Force.Newtons > 0);
    }

    /// <summary>What a brush touches, from the strips, agrees with what the engine says the coil is connected to.</summary>
    [Fact]
    public void Brushes_touch_what_the_launch_says()
    {
        int driven = 0;
        foreach (LaunchSample moment in Animation.Moments)
        {
            // On an edge itself, rounding decides.
            double reach = 0.0015;
            if (Launch.Launcher.Contacts.Upper.Strips.SelectMany(strip => new[] { strip.Start.Meters - reach, strip.End.Meters + reach }).Any(edge => Math.Abs(edge - moment.Position.Meters) < 1e-9))
            {
                continue;
            }

            string upper = LaunchAnimation.Touch(Launch.Launcher, 0, upper: true, moment.Position.Meters);
            string lower = LaunchAnimation.Touch(Launch.Launcher, 0, upper: false, moment.Position.Meters);
            switch (moment.Connections[0])
            {
                case CircuitConnection.Forward:
                    Assert.Equal(("plus", "minus"), (upper, lower));
                    driven++;
                    break;
                case CircuitConnection.Reverse:
                    Assert.Equal(("minus", "plus"), (upper, lower));
                    driven++;
                    break;
                default:
                    Assert.Equal(("none", "none"), (upper, lower));
                    break;
            }
        }

        Assert.True(driven > 100);
    }

    private static XElement[] Parts(XElement svg, string name) => [.. svg.Descendants().Where(element => element.Attribute("data-part")?.Value == name)];

    private sealed class NearBy(double within) : IEqualityComparer<double>
    {
        public bool Equals(double x, double y) => Math.Abs(x - y) <= within;

        public int GetHashCode(double value) => 0;
    }
}
