using Magrail.Tests.Launch;
using Magrail.Units;

namespace Magrail.Tests.Regression;

/// <summary>
/// A launcher given another friction forgot that the lateral force was left out, and one given another brush forgot the rule by which its strips were laid, so that a
/// study that changed two numbers refused the second.
/// </summary>
public sealed class SettingsLostInARebuiltLauncher
{
    private static readonly Launcher Launcher = Plain();

    public static TheoryData<CalibrationCause, double> Causes => new()
    {
        { CalibrationCause.ContactResistance, 0.05 },
        { CalibrationCause.BrushDrop, 0.4 },
        { CalibrationCause.LeadResistance, 0.02 },
        { CalibrationCause.SlidingFriction, 0.2 },
        { CalibrationCause.ViscousFriction, 0.03 },
        { CalibrationCause.Remanence, 1.25 },
        { CalibrationCause.Gap, 0.0105 },
    };

    [Theory]
    [MemberData(nameof(Causes))]
    public void A_calibrated_launcher_keeps_its_settings(CalibrationCause cause, double value)
    {
        Launcher other = CauseModel.With(Launcher, cause, value);

        Assert.Equal(value, CauseModel.Of(other, cause), 1e-12);
        Assert.False(other.Sled.Friction.CountsLateralForce);
        Assert.NotNull(other.Contacts.Layout);
        Assert.Equal(Launcher.Contacts.Layout, other.Contacts.Layout);
        Assert.Equal(Launcher.Sled.DragArea, other.Sled.DragArea);
    }

    [Fact]
    public void Each_design_number_keeps_the_settings_that_are_not_its_own()
    {
        // Strips moved as a whole no longer follow the rule by which they were laid: that one is meant to forget it.
        Assert.Null(DesignNumber.StripShift.With(Launcher, 0.1.Millimeters()).Contacts.Layout);

        IReadOnlyList<DesignNumber> numbers = DesignNumber.AllOf(Launcher);
        Assert.Contains(DesignNumber.Friction, numbers);
        Assert.Contains(DesignNumber.ContactResistance, numbers);
        foreach (DesignNumber number in numbers)
        {
            double now = number.Read(Launcher);
            Launcher other = number.Apply(Launcher, number.Neighbors(now)?.Above ?? now * 1.02);

            Assert.NotEqual(now, number.Read(other));
            Assert.False(other.Sled.Friction.CountsLateralForce, number.Name);
            Assert.Equal(Launcher.Sled.DragArea, other.Sled.DragArea);
            Assert.NotNull(other.Contacts.Layout);
            if (number != DesignNumber.Dwell)
            {
                Assert.Equal(Launcher.Contacts.Layout!.Dwell, other.Contacts.Layout.Dwell);
            }

            if (number != DesignNumber.Lead)
            {
                Assert.Equal(Launcher.Contacts.Layout!.Lead, other.Contacts.Layout.Lead);
            }
        }
    }

    private static Launcher Plain()
    {
        Launcher whole = LaunchBench.Whole(3);
        return whole with
        {
            Sled = whole.Sled with { Friction = new GuideFriction(0.12, 0.18, 0.01.Newtons()) { CountsLateralForce = false } },
            Contacts = ContactCommutator.For(whole.Track, LaunchBench.Coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters(), 4.Milliohms()) { Drop = 0.3.Volts() }),
        };
    }
}
