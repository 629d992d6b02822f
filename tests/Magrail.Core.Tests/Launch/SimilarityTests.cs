using Magrail.Tests.ReferenceData;
using Magrail.Units;

namespace Magrail.Tests.Launch;

/// <summary>
/// The equations of a launch know no unit. In other units of length, mass and current the same launch takes the same steps, and each figure is the same number
/// of the new unit; where those are powers of two of the old ones, to the last bit, as no product, quotient or square root then rounds otherwise. (Dimensional homogeneity:
/// P. W. Bridgman, Dimensional Analysis, Yale 1922; from memory.) The unit of time stays: the rule for the first step of an integration has a time of its own (Hairer, Nørsett, Wanner,
/// Solving Ordinary Differential Equations I, section II.4; from memory), so that in another one the steps differ.
/// </summary>
public class SimilarityTests
{
    // Chosen so that no other quantity of a launch has the unit one, and that of inductances, whose root is taken, is an even power.
    private static readonly Dimension M = new(3), Kg = new(2), S = new(0), A = new(1);
    private static readonly Dimension Speed = M / S, Acceleration = Speed / S, N = Kg * Acceleration, J = N * M, W = J / S, V = W / A, Ohm = V / A, C = A * S, None = new(0);

    private static readonly Dictionary<string, Dimension> Columns = new()
    {
        ["volts"] = V, ["source_ohms"] = Ohm, ["limit"] = A, ["ohms"] = Ohm, ["henries"] = Ohm * S, ["kilograms"] = Kg, ["k0"] = N / A, ["pitch"] = M,
        ["start_speed"] = Speed, ["brush"] = M, ["stagger"] = M, ["bars_ohms"] = Ohm, ["q_ohms"] = Ohm, ["l_ohms"] = Ohm, ["drop"] = V, ["arc_fall"] = V, ["arc_field"] = V / M,
        ["arc_least"] = A, ["clamp"] = V, ["parallel_ohms"] = Ohm, ["farads"] = C / V, ["heat_capacity"] = J, ["dry"] = N, ["viscous"] = N / Speed, ["drag"] = N / Speed / Speed,
        ["slope"] = N, ["opens"] = S, ["closes"] = S, ["sled_kilograms"] = Kg, ["dry_after"] = N, ["slope_after"] = N, ["brake_start"] = M, ["brake_length"] = M,
        ["brake_force"] = N, ["brake_speed"] = Speed,
        ["ohms_a"] = Ohm, ["ohms_b"] = Ohm, ["henries_a"] = Ohm * S, ["henries_b"] = Ohm * S, ["mutual"] = Ohm * S, ["distance"] = M,
    };

    private static readonly string[] Tables = ["launch-effects.csv", "launch-two-coils.csv"];

    public static IEnumerable<object[]> Launches
        => Tables.SelectMany(file => ReferenceTable.Read(file).Rows.Select(row => new object[] { file, row.Text("case") }));

    [Theory]
    [MemberData(nameof(Launches))]
    public void Other_units_give_the_same_launch_to_the_last_bit(string file, string name)
    {
        ReferenceTable.Row row = ReferenceTable.Read(file).Rows.Single(row => row.Text("case") == name);
        Same(Of(row, false), Of(row, true));

        LauncherSi Of(ReferenceTable.Row row, bool other)
        {
            ReferenceTable.Row described = other ? row.Times(column => Columns.TryGetValue(column, out Dimension? unit) ? unit.Factor : 1) : row;
            LauncherSi si = file == "launch-effects.csv" ? ReferenceEffectsTests.Described(described) : ReferenceEffectsTests.TwoCoilsOf(described);
            return si with
            {
                BackLimit = si.Start - described.Number("pitch"),
                StallPatience = 0.25 * (other ? S.Factor : 1),
                Arc = si.Arc is ArcSi arc ? arc with { MinimumCurrent = 0.01 * (other ? A.Factor : 1) } : null,
            };
        }
    }

    /// <summary>A bank, forces across and upward, a spring or a friction brake, an arc whose voltage falls with its current.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Other_units_give_the_same_launch_with_what_the_tables_lack(bool spring)
    {
        ReferenceTable.Row row = ReferenceTable.Read("launch-effects.csv").Rows.Single(row => row.Text("case") == "arc-staggered");
        Same(Of(false), Of(true));

        LauncherSi Of(bool other)
        {
            double In(double number, Dimension unit) => other ? number * unit.Factor : number;
            LauncherSi si = ReferenceEffectsTests.Described(other ? row.Times(column => Columns.TryGetValue(column, out Dimension? unit) ? unit.Factor : 1) : row);
            double pitch = In(row.Number("pitch"), M);
            CircuitCurve Lateral(double part) => CircuitCurve.OfFunction(
                x => In(part, N / A) * Math.Cos(Math.PI * x / pitch), -2 * pitch, 40 * pitch, 168);
            return si with
            {
                Source = si.Source with { Capacitance = In(0.03, C / V) },
                Circuits = [si.Circuits[0] with { Across = Lateral(0.25), Up = Lateral(-0.125) }],
                SlidingCoefficient = 0.125,
                RestCoefficient = 0.1875,
                SlidingFriction = In(0.0625, N),
                RestFriction = In(0.09375, N),
                BackLimit = si.Start - pitch,
                StallPatience = In(0.25, S),
                Arc = new ArcSi(In(10, V), In(2000, V / M), In(4, W), In(1000, W / M), 0, In(0.25, A)),
                Braking = new BrakingSi
                {
                    Mass = 0.5 * si.Mass,
                    SlidingFriction = In(0.03125, N),
                    RestFriction = In(0.0625, N),
                    SlopeForce = 0,
                    Brake = new BrakeSi(spring ? BrakeKind.Spring : BrakeKind.Friction, In(0.01, M), In(0.5, M), In(8, N), In(100, N / M), true, 0, 0),
                    TrackEnd = si.Release + In(0.51, M),
                },
            };
        }
    }

    private static void Same(LauncherSi here, LauncherSi there)
    {
        LaunchOptions options = LaunchOptions.Default;
        LaunchSimulation first = LaunchBench.Simulation(here, options), second = LaunchBench.Simulation(there, options with { TimeLimit = (options.TimeLimit.Seconds * S.Factor).Seconds() });
        (string Name, double Value, Dimension Unit)[] one = [.. Figures(first.Run())], other = [.. Figures(second.Run())];
        Assert.Equal(one.Select(figure => figure.Name), other.Select(figure => figure.Name));
        Assert.All(one.Zip(other), pair => Assert.True(
            pair.First.Value * pair.First.Unit.Factor == pair.Second.Value, $"{pair.First.Name}: {pair.First.Value:R} of the old unit, {pair.Second.Value:R} of the new, whose factor is {pair.First.Unit.Factor}"));
        LaunchFigures plain = first.LaunchForFigures(), scaled = second.LaunchForFigures();
        Assert.Equal(plain.RmsCurrent * A.Factor, scaled.RmsCurrent);
        Assert.Equal(plain.ArcCharge * C.Factor, scaled.ArcCharge);
        Assert.Equal(plain.LongestArc * M.Factor, scaled.LongestArc);
        Assert.Equal(plain.PeakContactCurrent * A.Factor, scaled.PeakContactCurrent);
        Assert.Equal(plain.PeakSourceCurrent * A.Factor, scaled.PeakSourceCurrent);
        Assert.Equal(plain.RelativeResidual, scaled.RelativeResidual);
    }

    private static IEnumerable<(string Name, double Value, Dimension Unit)> Figures(LaunchResult launch)
    {
        yield return ("outcome", (int)launch.Outcome, None);
        yield return ("steps", launch.Statistics.StepsAccepted, None);
        yield return ("steps refused", launch.Statistics.StepsRejected, None);
        yield return ("evaluations", launch.Statistics.Evaluations, None);
        yield return ("restarts", launch.Statistics.Restarts, None);
        yield return ("end speed", launch.EndSpeed.MetersPerSecond, Speed);
        yield return ("end time", launch.EndTime.Seconds, S);
        yield return ("end position", launch.EndPosition.Meters, M);
        yield return ("peak acceleration", launch.PeakAcceleration.MetersPerSecondSquared, Acceleration);
        yield return ("where", launch.PeakAccelerationPosition.Meters, M);
        yield return ("mean acceleration", launch.MeanAcceleration.MetersPerSecondSquared, Acceleration);
        yield return ("peak current", launch.PeakCurrent.Amperes, A);
        yield return ("at", launch.PeakCurrentPosition.Meters, M);
        yield return ("contact current", launch.PeakContactCurrent.Amperes, A);
        yield return ("source current", launch.PeakSourceCurrent.Amperes, A);
        yield return ("rail", launch.LeastRailVoltage.Volts, V);
        yield return ("contact voltage", launch.PeakContactVoltage.Volts, V);
        yield return ("charge", launch.ChargeDrawn.Coulombs, C);
        yield return ("lateral force", launch.PeakLateralForce.Newtons, N);
        foreach ((string name, double value, Dimension unit) in Ledger(launch.Ledger))
        {
            yield return (name, value, unit);
        }

        foreach ((int number, ContactBreak one) in launch.Breaks.Index())
        {
            yield return ($"break {number}: time", one.Time.Seconds, S);
            yield return ($"break {number}: position", one.Position.Meters, M);
            yield return ($"break {number}: speed", one.Speed.MetersPerSecond, Speed);
            yield return ($"break {number}: current", one.Current.Amperes, A);
            yield return ($"break {number}: duration", one.Duration.Seconds, S);
            yield return ($"break {number}: gap", one.Gap.Meters, M);
            yield return ($"break {number}: energy", one.Energy.Joules, J);
            yield return ($"break {number}: charge", one.Charge.Coulombs, C);
            yield return ($"break {number}: coil", one.PeakCoilVoltage?.Volts ?? 0, V);
            yield return ($"break {number}: flash", one.FlashOverPosition?.Meters ?? 0, M);
            yield return ($"break {number}: ending", (int)one.Ending, None);
        }

        foreach ((int number, ContactCrossing one) in launch.Crossings.Index())
        {
            yield return ($"crossing {number}: time", one.Time.Seconds, S);
            yield return ($"crossing {number}: position", one.Position.Meters, M);
            yield return ($"crossing {number}: before", one.CurrentBefore.Amperes, A);
            yield return ($"crossing {number}: after", one.CurrentAfter.Amperes, A);
            yield return ($"crossing {number}: to", (int)one.After, None);
        }

        for (int i = 0; i < launch.Trace.TimeSeconds.Length; i += 7)
        {
            yield return ($"trace {i}: force", launch.Trace.ForceNewtons[i], N);
            yield return ($"trace {i}: rail", launch.Trace.RailVolts[i], V);
            yield return ($"trace {i}: source", launch.Trace.SourceWatts[i], W);
            yield return ($"trace {i}: coil", launch.Trace.CoilHeatWatts[i], W);
            yield return ($"trace {i}: motion", launch.Trace.MotionWatts[i], W);
        }

        if (launch.Braking is { } braking)
        {
            yield return ("braking", (int)braking.Outcome, None);
            yield return ("stop", braking.StopPosition.Meters, M);
            yield return ("braking time", braking.Duration.Seconds, S);
            yield return ("deceleration", braking.PeakDeceleration.MetersPerSecondSquared, Acceleration);
            foreach ((string name, double value, Dimension unit) in Ledger(braking.Ledger))
            {
                yield return ($"braking: {name}", value, unit);
            }
        }
    }

    private static IEnumerable<(string Name, double Value, Dimension Unit)> Ledger(EnergyLedger ledger)
    {
        yield return ("drawn", ledger.Drawn.Joules, J);
        yield return ("coil heat", ledger.CoilHeat.Joules, J);
        yield return ("other heat", ledger.OtherHeat.Joules, J);
        yield return ("arcs", ledger.Arcs.Joules, J);
        yield return ("suppressed", ledger.Suppressed.Joules, J);
        yield return ("breaks", ledger.Breaks.Joules, J);
        yield return ("friction", ledger.Friction.Joules, J);
        yield return ("drag", ledger.Drag.Joules, J);
        yield return ("brake", ledger.Brake.Joules, J);
        yield return ("kinetic", ledger.Kinetic.Joules, J);
        yield return ("magnetic", ledger.Magnetic.Joules, J);
        yield return ("potential", ledger.Potential.Joules, J);
    }

    /// <summary>How many old units make a new one, as a power of two: the factor of numbers.</summary>
    private sealed record Dimension(int Exponent)
    {
        public double Factor => Math.ScaleB(1, Exponent);

        public static Dimension operator *(Dimension a, Dimension b) => new(a.Exponent + b.Exponent);

        public static Dimension operator /(Dimension a, Dimension b) => new(a.Exponent - b.Exponent);
    }
}
