using Magrail.Units;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Launch;

/// <summary>Strips against coils: staggered circuits, layouts that push backward, and laying out by the speeds of a launch.</summary>
public class StripCheckTests(ITestOutputHelper output)
{
    private static readonly Brush Brush = new(3.Millimeters(), 4.Milliohms());

    /// <summary>One circuit stands unfed in every gap of 4 mm; a second one half a pitch behind fills all of them, from the first fed stretch to the last.</summary>
    [Fact]
    public void Coils_half_a_pitch_apart_fill_each_others_gaps()
    {
        // Dwell 0.8 of 20 mm: 4 mm between fed stretches.
        StripCheck one = StripCheck.Of(Staggered());
        Assert.True(one.Works);
        Assert.Equal(4, one.LongestUnfedWay.Millimeters, 1e-6);
        CircuitFit fit = Assert.Single(one.Circuits);
        Assert.Equal(0, fit.BackwardWay.Millimeters, 1e-9);
        Assert.InRange(fit.UsedPush, 0.8, 1);

        StripCheck two = StripCheck.Of(Staggered(30) with { Release = 150.Millimeters() });
        output.WriteLine($"{one}\n{two}");
        Assert.True(two.Works);
        Assert.Equal(0, two.LongestUnfedWay.Millimeters);
        Assert.Equal([0, 1], two.Circuits.Select(circuit => circuit.Circuit));

        // The same strips serve both: the second coil sees of them what the first saw 30 mm of travel before.
        Assert.Equal(two.Circuits[0].UsedPush, StripCheck.Of(Staggered() with { Release = 150.Millimeters() }).Circuits[0].UsedPush, 1e-12);
        Assert.Contains("the sled starts anywhere", two.ToString(), StringComparison.Ordinal);
        Assert.Contains("no circuit is fed over 4 mm from ", one.ToString(), StringComparison.Ordinal);

        static Launcher Staggered(params double[] behind)
        {
            Track track = LaunchBench.TrackOf(10);
            CoilMount[] mounts = [new(LaunchBench.Coil, Length.Zero), .. behind.Select((offset, k) => new CoilMount(LaunchBench.Coil, (-offset).Millimeters(), circuit: k + 1))];
            return new Launcher(track, new Sled(25.Grams(), mounts), ContactCommutator.For(track, LaunchBench.Coil, 0.8, Length.Zero, Brush), new BenchSupply(20.Volts())) { Start = 50.Millimeters() };
        }
    }

    /// <summary>Two coils in series a pitch apart must be wired crosswise: plainly they cancel, and the check says that nothing is left of the push.</summary>
    [Fact]
    public void Series_coils_a_pitch_apart_must_be_crossed()
    {
        Track track = LaunchBench.TrackOf(10);
        double[] used = [.. new[] { WindingSense.Crossed, WindingSense.Plain }.Select(sense =>
        {
            CoilMount[] mounts = [new(LaunchBench.Coil, Length.Zero), new(LaunchBench.Coil, 60.Millimeters(), sense)];
            var launcher = new Launcher(track, new Sled(25.Grams(), mounts), ContactCommutator.For(track, LaunchBench.Coil, 0.8, Length.Zero, Brush), new BenchSupply(20.Volts()))
            {
                Start = 10.Millimeters(),
                Release = 110.Millimeters(),
            };
            StripCheck check = StripCheck.Of(launcher);
            output.WriteLine(check.ToString());
            return check.Circuits[0].UsedPush;
        })];
        Assert.InRange(used[0], 0.8, 1);
        Assert.InRange(used[1], -0.8, 0.5);
    }

    /// <summary>Rails exchanged: every fed stretch pushes backward, by as much.</summary>
    [Fact]
    public void Exchanged_rails_push_backward()
    {
        Launcher right = LaunchBench.Whole(6);
        ContactCommutator c = right.Contacts;
        Launcher wrong = right with { Contacts = new ContactCommutator(c.Lower, c.Upper, c.UpperBrush, c.LowerBrush) };
        CircuitFit good = StripCheck.Of(right).Circuits[0];
        StripCheck check = StripCheck.Of(wrong);
        CircuitFit bad = check.Circuits[0];
        Assert.True(good.Works);
        Assert.False(check.Works);
        Assert.Equal(5, bad.WrongStretches.Length);
        Assert.Equal(good.UsedPush, -bad.UsedPush, 1e-12);
        Assert.Equal(good.FedWay.Millimeters, bad.BackwardWay.Millimeters + good.BackwardWay.Millimeters, 1e-6);
        Assert.Contains("wrong from ", check.ToString(), StringComparison.Ordinal);
    }

    /// <summary>Launch, lay out again by the speeds, launch again: strips settle within two rounds, and the sled leaves faster than with strips that do not lead.</summary>
    [Fact]
    public void Laying_out_by_the_speeds_of_a_launch_settles_and_pays()
    {
        Launcher launcher = LaunchBench.Whole(20);
        var brush = new Brush(3.Millimeters(), 4.Milliohms(), 0.8.Newtons());
        Duration time = StripLead.TurningTime(LaunchBench.Coil, 63.Milliohms());
        Launcher With(StripLead lead) => launcher with
        {
            Contacts = ContactCommutator.For(launcher.Track, LaunchBench.Coil, StripLayout.OfDwell(0.8) with { Lead = lead }, brush),
        };

        Launcher round = With(StripLead.None);
        LaunchResult result = LaunchBench.Launch(round);
        double symmetric = result.ExitSpeed.MetersPerSecond;
        List<double> moved = [];
        for (int i = 0; i < 4; i++)
        {
            Launcher next = With(StripLead.Growing(Length.Zero, time, result.SpeedsAlongTrack()));
            moved.Add(next.Contacts.Upper.Strips.Zip(round.Contacts.Upper.Strips, (a, b) => Math.Abs(a.Start.Millimeters - b.Start.Millimeters)).Max());
            round = next;
            result = LaunchBench.Launch(round);
            output.WriteLine($"round {i + 1}: strips moved {moved[i]:G4} mm, {result.ExitSpeed.MetersPerSecond:G6} m/s instead of {symmetric:G6} m/s");
        }

        Assert.True(moved[0] > 0.2);
        Assert.True(moved[2] < 0.1 * moved[0]);
        Assert.True(moved[3] < 0.01 * moved[0]);
        Assert.True(result.ExitSpeed.MetersPerSecond > symmetric);

        // The last strips lie where the speed of the launch says: lead = L/R times v midway between the stations.
        LaunchSample sample = result.Trace.AtPosition(310.Millimeters());
        double lead = 310 - (0.5 * (round.Contacts.Upper.Strips[15].Start.Millimeters + round.Contacts.Upper.Strips[15].End.Millimeters));
        Assert.Equal(time.Milliseconds * sample.Speed.MetersPerSecond, lead, 0.01 * lead);
    }

    [Fact]
    public void Speeds_go_with_the_coil()
    {
        LaunchResult result = LaunchBench.Launch(LaunchBench.Whole(5));
        Speed there = result.Trace.AtPosition(45.Millimeters()).Speed;
        Assert.Equal(there.MetersPerSecond, result.SpeedsAlongTrack().At(45.Millimeters()).MetersPerSecond, 0.01);
        Assert.Equal(result.SpeedsAlongTrack().At(45.Millimeters()).MetersPerSecond, result.SpeedsAlongTrack(30.Millimeters()).At(75.Millimeters()).MetersPerSecond, 1e-9);
    }

    [Fact]
    public void A_launcher_with_faults_is_refused()
        => Assert.Throws<LauncherDescriptionException>(() => StripCheck.Of(LaunchBench.Whole(3) with { Release = (-1).Meters() }));
}
