using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Studies;

/// <summary>Sweeps: every point is the launch it says, whatever the order, the cores, the parts, or the kills on the way.</summary>
public sealed class StudyTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory().FullName;

    private static Study Grid => new(
        LaunchBench.Whole(),
        DesignNumber.Turns.Over(100, 140, 180),
        DesignNumber.Voltage.FromTo(12.Volts(), 48.Volts(), 7),
        DesignNumber.PayloadMass.Over(20.Grams(), 60.Grams()));

    private string Journal => Path.Combine(folder, "finished.txt");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Each_point_is_the_launch_of_its_values()
    {
        var options = new StudyOptions();
        StudyResult result = Grid.Run(options);

        Assert.Equal(42, Grid.PointCount);
        Assert.Equal(Enumerable.Range(0, 42), result.Points.Select(point => point.Index));
        foreach (StudyPoint point in result.Points)
        {
            Launcher launcher = LaunchBench.Whole();
            launcher = DesignNumber.PayloadMass.With(DesignNumber.Voltage.With(DesignNumber.Turns.With(
                launcher, point.Value(DesignNumber.Turns)), point.Value(DesignNumber.Voltage)), point.Value(DesignNumber.PayloadMass));
            Assert.Equal(point.Value(DesignNumber.Turns), launcher.Sled.Coils[0].Coil.Turns);
            Assert.Equal(point.Value(DesignNumber.Voltage).Volts, ((BatteryPack)launcher.Source).OpenCircuitVolts.Volts);
            Assert.Equal(point.Value(DesignNumber.PayloadMass).Kilograms, launcher.Payload.Mass.Kilograms);
            LaunchResult launch = launcher.Launch(options.Launch);
            Assert.InRange(launch.Ledger.RelativeResidual, 0, options.Launch.RelativeTolerance);
            AssertSame(launch, point.Summary!.Value);
        }
    }

    /// <summary>The grid runs through the last axis fastest, and a list takes one of each.</summary>
    [Fact]
    public void Grids_and_lists_are_in_order()
    {
        StudyResult grid = new Study(LaunchBench.Whole(4), DesignNumber.Turns.Over(100, 180), DesignNumber.Voltage.Over(24.Volts(), 12.Volts())).Run();
        Assert.Equal([(100, 24), (100, 12), (180, 24), (180, 12)], grid.Points.Select(p => (p.Value(DesignNumber.Turns), (int)p.Value(DesignNumber.Voltage).Volts)));

        Study list = Study.OfPoints(LaunchBench.Whole(4), DesignNumber.Turns.Over(100, 180), DesignNumber.Voltage.Over(24.Volts(), 12.Volts()));
        Assert.Equal([(100, 24), (180, 12)], list.Run().Points.Select(p => (p.Value(DesignNumber.Turns), (int)p.Value(DesignNumber.Voltage).Volts)));
        Assert.Equal(grid.Points[3].Summary, list.Run().Points[1].Summary);
        Assert.Throws<ArgumentException>(() => Study.OfPoints(LaunchBench.Whole(4), DesignNumber.Turns.Over(100), DesignNumber.Voltage.Over(24.Volts(), 12.Volts())));
        Assert.Throws<ArgumentException>(() => new Study(LaunchBench.Whole(4), DesignNumber.Turns.Over(100), DesignNumber.Turns.Over(110)));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void The_same_bits_for_any_number_of_cores(int cores)
        => AssertSame(Grid.Run(new StudyOptions { Cores = 1 }), Grid.Run(new StudyOptions { Cores = cores }));

    [Fact]
    public void Parts_merge_into_the_unsplit_result()
    {
        StudyResult whole = Grid.Run();
        StudyResult[] parts = [.. Enumerable.Range(1, 5).Select(i => Grid.Run(new StudyOptions { Part = new StudyPart(i, 5), Cores = i }))];

        Assert.All(parts, part => Assert.InRange(part.Points.Length, 8, 9));
        AssertSame(whole, StudyResult.Merge([.. parts.Reverse()]));
        Assert.Equal(StudyPart.Whole, StudyResult.Merge(parts).Part);
        Assert.Contains("needed is each part of 5 once", Assert.Throws<ArgumentException>(() => StudyResult.Merge(parts[0], parts[1])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => StudyResult.Merge([.. parts[..4], parts[3]]));
        StudyResult other = new Study(LaunchBench.Whole(9), [.. Grid.Axes]).Run(new StudyOptions { Part = new StudyPart(5, 5) });
        Assert.Contains("different studies", Assert.Throws<ArgumentException>(() => StudyResult.Merge([.. parts[..4], other])).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Parts_may_outnumber_points()
    {
        var study = new Study(LaunchBench.Whole(4), DesignNumber.Turns.Over(100, 180));
        StudyResult[] parts = [.. Enumerable.Range(1, 3).Select(i => study.Run(new StudyOptions { Part = new StudyPart(i, 3) }))];
        Assert.Equal(2, parts.Sum(part => part.Points.Length));
        AssertSame(study.Run(), StudyResult.Merge(parts));
    }

    /// <summary>A kill at any byte: what is whole in the file is not run again, what is not is run, and the result is the same bits.</summary>
    [Fact]
    public void A_killed_study_goes_on_from_its_file()
    {
        StudyResult whole = Grid.Run(new StudyOptions { FinishedPoints = Journal, Cores = 1 });
        byte[] file = File.ReadAllBytes(Journal);
        int head = Array.IndexOf(file, (byte)'\n') + 1;
        var random = new Random(5);
        foreach (int length in (int[])[0, 7, head - 1, head, head + 1, file.Length - 1, .. Enumerable.Range(0, 5).Select(_ => random.Next(file.Length))])
        {
            File.WriteAllBytes(Journal, file[..length]);
            int lines = file.Take(length).Count(one => one == (byte)'\n');
            int runs = 0;
            StudyResult again = Counted(() => runs++).Run(new StudyOptions { FinishedPoints = Journal, Cores = 1 });

            AssertSame(whole, again);
            Assert.Equal(42 - Math.Max(0, lines - 1), runs);
            Assert.Equal(file, File.ReadAllBytes(Journal));
        }

        Study Counted(Action count) => new(
            LaunchBench.Whole(),
            [.. Grid.Axes[..2], new StudyAxis(DesignNumber.PayloadMass, [0.02, 0.06], (launcher, i) =>
            {
                count();
                return Grid.Axes[2].Apply(launcher, i);
            })]);
    }

    [Fact]
    public void A_damaged_line_and_all_after_it_are_run_again()
    {
        StudyResult whole = Grid.Run(new StudyOptions { FinishedPoints = Journal, Cores = 1 });
        byte[] file = File.ReadAllBytes(Journal);
        byte[] damaged = [.. file];
        damaged[file.Length / 2] ^= 1;
        File.WriteAllBytes(Journal, damaged);
        AssertSame(whole, Grid.Run(new StudyOptions { FinishedPoints = Journal, Cores = 2 }));
        Assert.Equal(file.Length, File.ReadAllBytes(Journal).Length);
    }

    [Fact]
    public void A_file_of_another_study_is_refused_and_left_alone()
    {
        Grid.Run(new StudyOptions { FinishedPoints = Journal });
        byte[] before = File.ReadAllBytes(Journal);
        var other = new Study(LaunchBench.Whole(9), [.. Grid.Axes]);
        Assert.Contains("another study", Assert.Throws<InvalidDataException>(() => other.Run(new StudyOptions { FinishedPoints = Journal })).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidDataException>(() => Grid.Run(new StudyOptions { FinishedPoints = Journal, Part = new StudyPart(1, 2) }));
        Assert.Throws<InvalidDataException>(() => Grid.Run(new StudyOptions { FinishedPoints = Journal, Launch = LaunchOptions.Default }));
        Assert.Equal(before, File.ReadAllBytes(Journal));

        string letter = Path.Combine(folder, "letter.txt");
        File.WriteAllText(letter, "Dear Sir,\nno study here\n");
        Assert.Contains("no file of finished points", Assert.Throws<InvalidDataException>(() => Grid.Run(new StudyOptions { FinishedPoints = letter })).Message, StringComparison.Ordinal);
        Assert.Equal("Dear Sir,\nno study here\n", File.ReadAllText(letter));
    }

    /// <summary>Stopped half-way, the study throws; run again with its file, it gives the same bits.</summary>
    [Fact]
    public void A_cancelled_study_goes_on_from_its_file()
    {
        using var source = new CancellationTokenSource();
        int runs = 0;
        var stopping = new StudyOptions
        {
            FinishedPoints = Journal,
            Cores = 2,
            Keeps = _ =>
            {
                if (Interlocked.Increment(ref runs) == 20)
                {
                    source.Cancel();
                }

                return true;
            },
        };
        Assert.ThrowsAny<OperationCanceledException>(() => Grid.Run(stopping, cancellation: source.Token));
        Assert.InRange(runs, 20, 41);
        Assert.Equal(runs, File.ReadAllLines(Journal).Length - 1);
        AssertSame(Grid.Run(), Grid.Run(new StudyOptions { FinishedPoints = Journal }));
    }

    [Fact]
    public void Progress_counts_up_to_all()
    {
        var reports = new Reports();
        Grid.Run(new StudyOptions { Cores = 2 }, reports);
        Assert.Equal(new StudyProgress(42, 42), reports.All[^1]);
        Assert.Equal(reports.All.Select(report => report.Done).Order(), reports.All.Select(report => report.Done));
    }

    [Fact]
    public void Only_what_is_asked_for_is_kept()
    {
        StudyResult all = Grid.Run();
        StudyResult fast = Grid.Run(new StudyOptions { Keeps = point => point.ExitSpeed?.MetersPerSecond > 8, FinishedPoints = Journal });
        StudyResult resumed = Grid.Run(new StudyOptions { Keeps = point => point.ExitSpeed?.MetersPerSecond > 8, FinishedPoints = Journal });
        int[] expected = [.. all.Points.Where(point => point.ExitSpeed?.MetersPerSecond > 8).Select(point => point.Index)];
        Assert.InRange(expected.Length, 1, 41);
        Assert.Equal(expected, fast.Points.Select(point => point.Index));
        AssertSame(fast, resumed);
        Assert.Equal(42, fast.Total);
    }

    /// <summary>No turns, a stall and a bug of the user's are points like others.</summary>
    [Fact]
    public void What_fails_is_a_row_and_not_an_exception()
    {
        DesignNumber<double> broken = DesignNumber.OfNumber("mood", (launcher, mood) => mood > 1 ? throw new InvalidOperationException("bad mood") : launcher);
        var stuck = LaunchBench.Whole(4) with { Sled = new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(1.9) } };
        var study = new Study(stuck, DesignNumber.Turns.Over(180, 0), DesignNumber.Voltage.Over(1.Volts(), 48.Volts()), broken.Over(1, 2));
        StudyResult result = study.Run(new StudyOptions { FinishedPoints = Journal });

        Assert.Equal(LaunchOutcome.Stalled, result.Points[0].Summary!.Value.Outcome);
        Assert.Null(result.Points[0].ExitSpeed);
        Assert.False(result.Points[0].Holds);
        Assert.Equal("bad mood", result.Points[1].Fault);
        Assert.Equal(LaunchOutcome.Released, result.Points[2].Summary!.Value.Outcome);
        Assert.NotNull(result.Points[4].Fault);
        Assert.Null(result.Points[4].Summary);
        AssertSame(result, study.Run(new StudyOptions { FinishedPoints = Journal }));
        Assert.Contains("not launched: bad mood", result.Points[1].ToString(), StringComparison.Ordinal);
    }

    /// <summary>Every design number that comes with the library gives the launcher the value it is asked for, and leaves the others alone.</summary>
    [Fact]
    public void Design_numbers_read_back_what_they_set()
    {
        Launcher battery = LaunchBench.Whole(5);
        Launcher supply = battery with { Source = new BenchSupply(30.Volts(), 20.Amperes(), 50.Milliohms()) };
        Launcher bank = battery with { Source = new CapacitorBank(10.Millifarads(), 40.Volts(), 30.Milliohms()) };
        int checkedOnes = 0;
        foreach (Launcher launcher in (Launcher[])[battery, supply, bank])
        {
            foreach (DesignNumber number in DesignNumber.AllOf(launcher))
            {
                double before = number.Read(launcher);
                double value = number.IsWhole ? before + 1 : number == DesignNumber.Gauge ? 0.45e-3 : before * 1.01;
                Launcher changed = number.Apply(launcher, value);
                Assert.Equal(value, number.Read(changed), 1e-12 * Math.Abs(value));
                Assert.Empty(changed.Validate());
                foreach (DesignNumber other in DesignNumber.AllOf(launcher).Where(other => other != number))
                {
                    Assert.Equal(other.Read(launcher), other.Read(changed), 1e-12 * Math.Abs(other.Read(launcher)));
                }

                checkedOnes++;
            }
        }

        Assert.InRange(checkedOnes, 45, 60);
    }

    [Fact]
    public void Strips_are_laid_anew_as_if_made_for_the_track()
    {
        Launcher longer = DesignNumber.Pitch.With(DesignNumber.Stations.With(LaunchBench.Whole(5), 8), 22.Millimeters());
        ContactCommutator expected = ContactCommutator.For(longer.Track, LaunchBench.Coil, 0.8, 0.5.Millimeters(), longer.Contacts.UpperBrush);
        Assert.Equal(expected, longer.Contacts);
        Assert.Equal(8, longer.Track.StationCount);

        Launcher placed = LaunchBench.Whole(5) with { Contacts = new ContactCommutator(longer.Contacts.Upper, longer.Contacts.Lower, longer.Contacts.UpperBrush) };
        Assert.Contains("placed one by one", Assert.Throws<ArgumentOutOfRangeException>(() => DesignNumber.Pitch.With(placed, 22.Millimeters())).Message, StringComparison.Ordinal);
    }

    /// <summary>With a brake, arcs, ratings: the summary and its nearest limit are those of the whole result.</summary>
    [Fact]
    public void The_summary_is_the_result_without_its_course()
    {
        Launcher launcher = LaunchBench.Whole() with
        {
            Payload = new Payload(40.Grams(), 5.MetersPerSecond(), 900.MetersPerSecondSquared()),
            Brake = SledBrake.Friction(5.Millimeters(), 0.5.Meters(), 20.Newtons()),
            Leads = Leads.OfCopper(2.Meters(), Area.FromSquareMillimeters(2.5)),
            Arc = ArcCharacteristic.Of(ContactMaterial.SilverGraphite),
            Ratings = new Ratings { BrushMaterial = ContactMaterial.SilverGraphite, BrushCurrent = 30.Amperes(), SourceCurrent = 20.Amperes() },
        };
        Launcher[] launchers =
        [
            launcher,
            launcher with { Suppressor = Suppressor.Resistor(20.Ohms()) },
            launcher with { Suppressor = Suppressor.IdealBreak, Arc = null, Brake = null },
            launcher with { Source = new BenchSupply(40.Volts(), 15.Amperes()), CoilsWarmUp = true },
            launcher with { Brake = SledBrake.Friction(0.Meters(), 5.Millimeters(), 1.Newtons()) },
        ];
        foreach (Launcher one in launchers)
        {
            LaunchSimulation simulation = one.Prepare();
            AssertSame(simulation.Run(), simulation.RunSummary());
            Assert.Equal(0, Allocation.LeastOf(() => simulation.RunSummary()));
        }
    }

    private static void AssertSame(LaunchResult launch, LaunchSummary summary)
    {
        Assert.Equal(launch.Outcome, summary.Outcome);
        Assert.Equal(launch.EndSpeed.MetersPerSecond, summary.EndSpeed.MetersPerSecond);
        Assert.Equal(launch.EndTime.Seconds, summary.EndTime.Seconds);
        Assert.Equal(launch.EndPosition.Meters, summary.EndPosition.Meters);
        Assert.Equal(launch.PeakCurrent.Amperes, summary.PeakCurrent.Amperes);
        Assert.Equal(launch.PeakSourceCurrent.Amperes, summary.PeakSourceCurrent.Amperes);
        Assert.Equal(launch.RmsCurrent.Amperes, summary.RmsCurrent.Amperes);
        Assert.Equal(launch.PeakAcceleration.MetersPerSecondSquared, summary.PeakAcceleration.MetersPerSecondSquared);
        Assert.Equal(launch.ChargeDrawn.Coulombs, summary.ChargeDrawn.Coulombs);
        Assert.Equal(launch.CoilTemperatures.Max(t => t.Kelvins), summary.HottestCoil.Kelvins);
        Assert.Equal(launch.ArcCharge.Coulombs, summary.ArcCharge.Coulombs);
        Assert.Equal(launch.Ledger.Drawn.Joules, summary.EnergyDrawn.Joules);
        Assert.Equal(launch.Ledger.RelativeResidual, summary.RelativeResidual, 1e-15);
        Assert.Equal(launch.Limits.Binding!.Name, summary.NearestLimit);
        Assert.Equal(launch.Limits.Binding.Margin, summary.LeastMargin);
        Assert.Equal(launch.Limits.Holds && launch.Outcome == LaunchOutcome.Released, summary.Holds);
    }

    private static void AssertSame(StudyResult expected, StudyResult actual)
    {
        Assert.Equal(expected.Fingerprint, actual.Fingerprint);
        Assert.Equal(expected.Columns.AsEnumerable(), actual.Columns.AsEnumerable());
        Assert.Equal(expected.Points.Select(point => (point.Index, point.Summary, point.Fault)), actual.Points.Select(point => (point.Index, point.Summary, point.Fault)));
        Assert.Equal(expected.Points.SelectMany(point => point.Values.ToArray()), actual.Points.SelectMany(point => point.Values.ToArray()));
    }

    private sealed class Reports : IProgress<StudyProgress>
    {
        public List<StudyProgress> All { get; } = [];

        public void Report(StudyProgress value)
        {
            lock (All)
            {
                All.Add(value);
            }
        }
    }
}
