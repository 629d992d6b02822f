using UnitsNet;

namespace Magrail;

/// <summary>A measurement on the bench that enters the calibration beside the filmed runs.</summary>
public sealed record BenchTest
{
    private readonly Func<Launcher, LaunchOptions, double> predict;
    private readonly Func<double, string> show;

    private BenchTest(string name, Launcher launcher, double value, double error, Func<Launcher, LaunchOptions, double> predict, Func<double, string> show)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        Name = name;
        Launcher = launcher;
        Value = value;
        Error = error;
        this.predict = predict;
        this.show = show;
    }

    /// <summary>What was measured, in words.</summary>
    public string Name { get; }

    /// <summary>The launcher it was measured on.</summary>
    public Launcher Launcher { get; }

    /// <summary>The measured value in its base unit.</summary>
    internal double Value { get; }

    /// <summary>Its standard uncertainty in the same unit.</summary>
    internal double Error { get; }

    /// <summary>The resistance between the strips through both brushes and the coils of a circuit, sled at rest, at <see cref="Launcher.CoilTemperature"/>.</summary>
    /// <remarks>Of brushes with a drop, what voltage rises by per current: an ohmmeter at one current would have the drop in its reading. See <see cref="VoltageAtCurrent"/>.</remarks>
    /// <param name="launcher">The launcher.</param>
    /// <param name="measured">The resistance, above zero.</param>
    /// <param name="error">Its standard uncertainty, above zero.</param>
    /// <param name="circuit">Which circuit, from 0.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest ColdResistance(Launcher launcher, ElectricResistance measured, ElectricResistance error, int circuit = 0)
        => new(
            "cold resistance through the brushes",
            WithCircuit(launcher, circuit),
            Require.Positive(measured, "a winding resists").Ohms,
            Require.Positive(error, "no measurement is exact").Ohms,
            (described, _) => OhmsThroughBrushes(described, circuit),
            value => Show.Quantity(ElectricResistance.FromOhms(value)));

    /// <summary>
    /// The voltage between the strips at a held current through both brushes and the coils of a circuit, sled held at rest, at <see cref="Launcher.CoilTemperature"/>. At two currents far apart it tells
    /// the drop of the brushes from their resistance.
    /// </summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="current">The current, above zero.</param>
    /// <param name="measured">The voltage, above zero.</param>
    /// <param name="error">Its standard uncertainty, above zero.</param>
    /// <param name="circuit">Which circuit, from 0.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest VoltageAtCurrent(Launcher launcher, ElectricCurrent current, ElectricPotential measured, ElectricPotential error, int circuit = 0)
    {
        double amperes = Require.Positive(current, "without a current there is no drop").Amperes;
        return new(
            $"voltage between the strips at {Show.Quantity(current)}",
            WithCircuit(launcher, circuit),
            Require.Positive(measured, "a winding resists").Volts,
            Require.Positive(error, "no measurement is exact").Volts,
            (described, _) => (amperes * OhmsThroughBrushes(described, circuit)) + described.Contacts.UpperBrush.Drop.Volts + described.Contacts.LowerBrush.Drop.Volts,
            value => Show.Quantity(ElectricPotential.FromVolts(value)));
    }

    /// <summary>The inductance of a coil. No unknown moves it: it tells whether the coil is wound as described.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="measured">The inductance, above zero.</param>
    /// <param name="error">Its standard uncertainty, above zero.</param>
    /// <param name="coil">Which coil, from 0, as mounted.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest Inductance(Launcher launcher, ElectricInductance measured, ElectricInductance error, int coil = 0)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        Require.InRange(coil, 0, launcher.Sled.Coils.Length - 1, "coils count from 0");
        return new(
            "inductance of the coil",
            launcher,
            Require.Positive(measured, "a coil has an inductance").Henries,
            Require.Positive(error, "no measurement is exact").Henries,
            (described, _) => described.Sled.Coils[coil].Coil.Inductance.Henries,
            value => Show.Quantity(ElectricInductance.FromHenries(value)));
    }

    /// <summary>The pull along the track at a held current and place, friction taken out (the mean of pulled forward and let back).</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="current">The current, not zero.</param>
    /// <param name="position">Position of the sled's mark, on the track.</param>
    /// <param name="measured">The pull, positive forward.</param>
    /// <param name="error">Its standard uncertainty, above zero.</param>
    /// <param name="circuit">Which circuit, from 0.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest Pull(Launcher launcher, ElectricCurrent current, Length position, Force measured, Force error, int circuit = 0)
    {
        double amperes = Require.Finite(current, "it pulls").Amperes;
        if (amperes == 0)
        {
            throw Require.Fault(nameof(current), Show.Quantity(current), "other than zero", "without a current nothing pulls");
        }

        double x = Require.Finite(position, "a place on the track").Meters;
        return new(
            $"pull at {Show.Quantity(current)} and {Show.Quantity(position)}",
            WithCircuit(launcher, circuit),
            Require.Finite(measured, "a pull is a force").Newtons,
            Require.Positive(error, "no measurement is exact").Newtons,
            (described, options) => amperes * ForceConstantAt(described, options, x, circuit),
            value => Show.Quantity(Force.FromNewtons(value)));
    }

    /// <summary>The voltage of the open coil as the sled coasts past a place: force constant times speed.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="speed">The speed there, above zero.</param>
    /// <param name="position">Position of the sled's mark, on the track.</param>
    /// <param name="measured">The voltage, signed as the force constant.</param>
    /// <param name="error">Its standard uncertainty, above zero; with that of the speed in it.</param>
    /// <param name="circuit">Which circuit, from 0.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest CoastingVoltage(Launcher launcher, Speed speed, Length position, ElectricPotential measured, ElectricPotential error, int circuit = 0)
    {
        double v = Require.Positive(speed, "a sled that stands induces nothing").MetersPerSecond;
        double x = Require.Finite(position, "a place on the track").Meters;
        return new(
            $"coasting voltage at {Show.Quantity(speed)} and {Show.Quantity(position)}",
            WithCircuit(launcher, circuit),
            Require.Finite(measured, "a voltage").Volts,
            Require.Positive(error, "no measurement is exact").Volts,
            (described, options) => v * ForceConstantAt(described, options, x, circuit),
            value => Show.Quantity(ElectricPotential.FromVolts(value)));
    }

    /// <summary>How fast the sled slows down without current, on the level: what rubs and the air, over the mass.</summary>
    /// <param name="launcher">The launcher; its payload rides along.</param>
    /// <param name="speed">The speed there, above zero.</param>
    /// <param name="measured">The deceleration, above zero.</param>
    /// <param name="error">Its standard uncertainty, above zero.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public static BenchTest CoastDown(Launcher launcher, Speed speed, Acceleration measured, Acceleration error)
    {
        double v = Require.Positive(speed, "a sled that stands does not slow down").MetersPerSecond;
        return new(
            $"deceleration without current at {Show.Quantity(speed)}",
            launcher,
            Require.Positive(measured, "friction slows down").MetersPerSecondSquared,
            Require.Positive(error, "no measurement is exact").MetersPerSecondSquared,
            (described, options) =>
            {
                LauncherSi si = (described with { Slope = Angle.Zero }).ToSi(options);
                return (si.SlidingFriction + (si.Viscous * v) + (si.DragFactor * v * v)) / si.Mass;
            },
            value => Show.Quantity(Acceleration.FromMetersPerSecondSquared(value)));
    }

    /// <summary>What a launcher would give, in the base unit.</summary>
    internal double Predict(Launcher described, LaunchOptions options) => predict(described, options);

    /// <summary>A value in words.</summary>
    internal string Text(double value) => show(value);

    /// <summary>The measurement in words.</summary>
    public override string ToString() => $"{Name}: {show(Value)} ± {show(Error)}";

    private static double OhmsThroughBrushes(Launcher described, int circuit)
        => described.Contacts.UpperBrush.Resistance.Ohms + described.Contacts.LowerBrush.Resistance.Ohms
            + described.Sled.Coils.Where(mount => mount.Circuit == circuit).Sum(mount => mount.Coil.ResistanceAt(described.CoilTemperature).Ohms);

    private static double ForceConstantAt(Launcher described, LaunchOptions options, double x, int circuit)
    {
        CircuitCurve curve = described.ToSi(options).Circuits[circuit].Curve;
        return curve.At(x);
    }

    private static Launcher WithCircuit(Launcher launcher, int circuit)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        Require.InRange(circuit, 0, launcher.Sled.CircuitCount - 1, "circuits count from 0");
        return launcher;
    }
}
