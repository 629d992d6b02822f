using System.Globalization;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>The course of a launch, sampled and saved.</summary>
public class TraceTests
{
    [Fact]
    public void Position_and_time_lead_to_the_same_sample()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        foreach (double x in (double[])[0.01, 0.0237, 0.0555, 0.1, 0.171])
        {
            LaunchSample there = trace.AtPosition(x.Meters());
            Assert.Equal(x, there.Position.Meters, 1e-12);
            LaunchSample then = trace.At(there.Time);
            Assert.Equal(there.Speed.MetersPerSecond, then.Speed.MetersPerSecond, 1e-12);
            Assert.Equal(there.Currents[0].Amperes, then.Currents[0].Amperes, 1e-12);
        }

        ArgumentOutOfRangeException error = Assert.Throws<ArgumentOutOfRangeException>(() => trace.AtPosition(2.Meters()));
        Assert.Contains("2 m", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => trace.At((-1).Milliseconds()));
        Assert.Throws<ArgumentOutOfRangeException>(() => trace.Samples(1));
    }

    /// <summary>Inside a step, the sample is a solution too: speed is the slope of position, and force over mass less losses that of speed.</summary>
    [Fact]
    public void Speed_is_the_slope_of_position()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        const double Step = 1e-7;
        for (int i = 1; i < 200; i++)
        {
            double t = trace.End.Seconds * i / 200;
            double slope = (trace.At((t + Step).Seconds()).Position.Meters - trace.At((t - Step).Seconds()).Position.Meters) / (2 * Step);
            Assert.Equal(trace.At(t.Seconds()).Speed.MetersPerSecond, slope, 1e-5);
        }
    }

    [Fact]
    public void Columns_run_forward_in_time()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        Assert.Equal(trace.TimeSeconds.Length, trace.PositionMeters.Length);
        Assert.Equal(trace.TimeSeconds.Length, trace.CurrentAmperes[0].Length);
        for (int i = 1; i < trace.TimeSeconds.Length; i++)
        {
            Assert.True(trace.TimeSeconds[i] >= trace.TimeSeconds[i - 1]);
        }
    }

    [Fact]
    public void Csv_reads_back_to_the_last_bit()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        string folder = Directory.CreateTempSubdirectory("launch-").FullName;
        try
        {
            string path = Path.Combine(folder, "launch.csv");
            File.WriteAllText(path, "an older file");
            CultureInfo before = CultureInfo.CurrentCulture;
            var comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            comma.NumberFormat.NumberDecimalSeparator = ",";
            try
            {
                // A culture with a decimal comma changes nothing.
                CultureInfo.CurrentCulture = comma;
                trace.SaveCsv(path);
            }
            finally
            {
                CultureInfo.CurrentCulture = before;
            }

            Assert.Equal([path], Directory.GetFiles(folder));
            string[] lines = File.ReadAllLines(path);
            Assert.Equal("time [s],position [m],speed [m/s],force [N],current 0 [A],rail [V],source power [W],coil heat [W],motion power [W],coil 0 temperature [degC]", lines[0]);
            Assert.Equal(trace.TimeSeconds.Length, lines.Length - 1);
            for (int row = 0; row < trace.TimeSeconds.Length; row++)
            {
                double[] cells = [.. lines[row + 1].Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture))];
                Assert.Equal(trace.TimeSeconds[row], cells[0]);
                Assert.Equal(trace.PositionMeters[row], cells[1]);
                Assert.Equal(trace.SpeedMetersPerSecond[row], cells[2]);
                Assert.Equal(trace.ForceNewtons[row], cells[3]);
                Assert.Equal(trace.CurrentAmperes[0][row], cells[4]);
                Assert.Equal(trace.RailVolts[row], cells[5]);
                Assert.Equal(trace.SourceWatts[row], cells[6]);
                Assert.Equal(trace.CoilHeatWatts[row], cells[7]);
                Assert.Equal(trace.MotionWatts[row], cells[8]);
                Assert.Equal(trace.CoilCelsius[0][row], cells[9]);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>
    /// Power over time is energy: the columns, integrated by Boole's rule over the five rows of each step (Abramowitz and Stegun, 25.4.14), come to the entries of the
    /// ledger. The last temperature is that of the result.
    /// </summary>
    [Theory]
    [InlineData("pack")]
    [InlineData("limited supply")]
    [InlineData("bank, warm coil, resistor")]
    [InlineData("arcs")]
    public void Powers_come_to_the_ledger(string kind)
    {
        Launcher plain = LaunchBench.Whole();
        Launcher launcher = kind switch
        {
            "limited supply" => plain with { Source = new BenchSupply(37.Volts(), 9.Amperes()) },
            "bank, warm coil, resistor" => plain with { Source = new CapacitorBank(40.Millifarads(), 40.Volts(), 20.Milliohms()), CoilsWarmUp = true, Suppressor = Suppressor.Resistor(20.Ohms()) },
            "arcs" => plain with { Arc = ArcCharacteristic.Of(ContactMaterial.Copper), Suppressor = Suppressor.IdealBreak, CoilsWarmUp = true },
            _ => plain,
        };
        LaunchResult launch = LaunchBench.Launch(launcher);
        LaunchTrace trace = launch.Trace;
        EnergyLedger ledger = launch.Ledger;
        double drawn = ledger.Drawn.Joules;
        double Integral(IReadOnlyList<double> column)
        {
            double sum = 0;
            for (int row = 0; row + 4 < column.Count; row += 5)
            {
                double h = (trace.TimeSeconds[row + 4] - trace.TimeSeconds[row]) / 4;
                sum += 2 * h / 45 * ((7 * column[row]) + (32 * column[row + 1]) + (12 * column[row + 2]) + (32 * column[row + 3]) + (7 * column[row + 4]));
            }

            return sum;
        }

        Assert.Equal(drawn, Integral(trace.SourceWatts), 1e-4 * drawn);
        Assert.Equal(ledger.CoilHeat.Joules, Integral(trace.CoilHeatWatts), 1e-4 * drawn);
        Assert.Equal((ledger.Kinetic + ledger.Friction + ledger.Drag + ledger.Potential).Joules, Integral(trace.MotionWatts), 1e-4 * drawn);
        Assert.Equal(launch.CoilTemperatures[0].DegreesCelsius, trace.CoilCelsius[0][^1], 1e-9);
        Assert.Equal(20, trace.CoilCelsius[0][0], 1e-9);
        Assert.True(trace.CoilCelsius[0][^1] > 20);
        Assert.Equal(launch.LeastRailVoltage.Volts, trace.RailVolts.Min(), 1e-9);
    }

    /// <summary>The rails of a pack show its voltage less its resistance, that of leads and switch times the current (Ohm's law).</summary>
    [Fact]
    public void The_rails_of_a_pack_sag_by_its_current()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        double most = 0;
        for (int row = 0; row < trace.TimeSeconds.Length; row++)
        {
            // 45 mohm of the pack, 12 of the leads, 6 of the switch; between strips nothing is drawn.
            double current = trace.SourceWatts[row] / 37;
            Assert.Equal(37 - (0.063 * current), trace.RailVolts[row], 1e-9);
            Assert.True(current == 0 || Math.Abs(Math.Abs(trace.CurrentAmperes[0][row]) - Math.Abs(current)) < 1e-9);
            most = Math.Max(most, current);
        }

        Assert.True(most > 10);
    }

    /// <summary>Where the file cannot be put in place, what was there stays as it was.</summary>
    [Fact]
    public void A_failed_saving_leaves_no_half_file()
    {
        LaunchTrace trace = LaunchBench.Launch(LaunchBench.Whole()).Trace;
        string folder = Directory.CreateTempSubdirectory("launch-").FullName;
        try
        {
            string made = Path.Combine(folder, "made", "launch.csv");
            trace.SaveCsv(made);
            Assert.Equal([made], Directory.GetFiles(Path.GetDirectoryName(made)!));
            Assert.ThrowsAny<IOException>(() => trace.SaveCsv(Path.Combine(made, "launch.csv")));
            string taken = Path.Combine(folder, "taken");
            Directory.CreateDirectory(taken);
            Assert.ThrowsAny<Exception>(() => trace.SaveCsv(taken));
            Assert.True(Directory.Exists(taken));
            Assert.Empty(Directory.GetFiles(folder));
            Assert.Throws<ArgumentException>(() => trace.SaveCsv(" "));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Two circuits, bank or limited supply, clamp or ideal break: none of them allocates once warm.</summary>
    [Fact]
    public void No_part_allocates_while_it_runs()
    {
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(8.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            100);
        Track track = LaunchBench.TrackOf(6);
        ContactCommutator contacts = ContactCommutator.For(track, coil, 0.8, 0.2.Millimeters(), new Brush(3.Millimeters()));
        var sled = new Sled(25.Grams(), [new CoilMount(coil, 0.Millimeters()), new CoilMount(coil, 20.Millimeters(), circuit: 1)]);
        foreach (PowerSource source in (PowerSource[])[new CapacitorBank(50.Millifarads(), 40.Volts(), 20.Milliohms()), new BenchSupply(30.Volts(), 15.Amperes())])
        {
            foreach (Suppressor suppressor in (Suppressor[])[Suppressor.IdealBreak, Suppressor.Clamp(50.Volts())])
            {
                LaunchSimulation simulation = (new Launcher(track, sled, contacts, source) { Suppressor = suppressor }).Prepare();
                Assert.Equal(LaunchOutcome.Released, LaunchBench.Checked(simulation.Run()).Outcome);
                simulation.RunSummary();
                simulation.RunSummary();
                Assert.Equal(0, Allocation.LeastOf(() => simulation.RunSummary()));
            }
        }
    }

    /// <summary>Warm, a summary allocates nothing, and says what the full result says.</summary>
    [Fact]
    public void A_summary_allocates_nothing()
    {
        LaunchSimulation simulation = LaunchBench.Whole().Prepare();
        LaunchSummary summary = simulation.RunSummary();
        simulation.RunSummary();
        Assert.Equal(0, Allocation.LeastOf(() => simulation.RunSummary()));
        LaunchResult result = LaunchBench.Checked(simulation.Run());
        Assert.Equal(summary, simulation.RunSummary());
        Assert.Equal(result.ExitSpeed.MetersPerSecond, summary.EndSpeed.MetersPerSecond);
        Assert.Equal(result.Ledger.Drawn.Joules, summary.EnergyDrawn.Joules);
        Assert.Equal(result.PeakCurrent.Amperes, summary.PeakCurrent.Amperes);
        Assert.Equal(result.Ledger.RelativeResidual, summary.RelativeResidual, 1e-12);
    }
}
