using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>
/// Every description refuses what cannot be, and names parameter, value with unit, range and reason. One row a parameter.
/// </summary>
public class BadInputTests
{
    private static readonly Track Track = LaunchBench.TrackOf(3);
    private static readonly Coil Coil = LaunchBench.Coil;
    private static readonly Brush Brush = new(3.Millimeters());
    private static readonly Launcher Whole = LaunchBench.Whole(3);

    private static readonly (string Name, string Value, string Range, Func<object> Make)[] Rows =
    [
        ("length", "0 m", "above zero", () => new Brush(Length.Zero)),
        ("length", "-3 mm", "above zero", () => new Brush((-3).Millimeters())),
        ("resistance", "-1 mohm", "zero or above", () => new Brush(3.Millimeters(), (-1).Milliohms())),
        ("force", "-1 N", "zero or above", () => new Brush(3.Millimeters(), force: (-1).Newtons())),
        ("end", "5 mm", "beyond the start, 5 mm", () => new ContactStrip(5.Millimeters(), 5.Millimeters(), Bus.Plus)),
        ("bus", "7", "Dead, Plus, Minus", () => new ContactStrip(5.Millimeters(), 6.Millimeters(), (Bus)7)),
        ("strips", "empty", "one strip or more", () => new ContactLine([])),
        ("dwell", "0.01", "0.05 to 0.99", () => ContactCommutator.For(Track, Coil, 0.01, Length.Zero, Brush)),
        ("dwell", "1", "0.05 to 0.99", () => ContactCommutator.For(Track, Coil, 1, Length.Zero, Brush)),
        ("dwell", "NaN", "0.05 to 0.99", () => ContactCommutator.For(Track, Coil, double.NaN, Length.Zero, Brush)),
        ("lead", "-10 mm", "less than half the pitch, 10 mm", () => ContactCommutator.For(Track, Coil, 0.8, (-10).Millimeters(), Brush)),
        ("brush", "17 mm", "shorter than dwell times pitch, 16 mm", () => ContactCommutator.For(Track, Coil, 0.8, Length.Zero, new Brush(17.Millimeters()))),
        ("track.StationCount", "1", "2 or more", () => ContactCommutator.For(LaunchBench.TrackOf(1), Coil, 0.8, Length.Zero, Brush)),
        ("track", "without a neighbouring pair", "pushes somewhere", () => ContactCommutator.For(
            Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 10.Millimeters(), 2, 20.Millimeters(), [Polarity.Positive]), Coil, 0.8, Length.Zero, Brush)),

        ("openCircuitVolts", "0 V", "above zero", () => new BatteryPack(0.Volts(), 1.Ohms(), 1.AmpereHours())),
        ("internalResistance", "0 ohm", "above zero", () => new BatteryPack(1.Volts(), 0.Ohms(), 1.AmpereHours())),
        ("capacity", "-3.6 ", "above zero", () => new BatteryPack(1.Volts(), 1.Ohms(), (-0.001).AmpereHours())),
        ("volts", "-5 V", "above zero", () => new BenchSupply((-5).Volts())),
        ("limit", "0 A", "above zero", () => new BenchSupply(5.Volts(), 0.Amperes())),
        ("outputResistance", "-10 mohm", "zero or above", () => new BenchSupply(5.Volts(), outputResistance: (-0.01).Ohms())),
        ("capacitance", "0 F", "above zero", () => new CapacitorBank(0.Farads(), 5.Volts(), 1.Ohms())),
        ("initialVolts", "0 V", "above zero", () => new CapacitorBank(1.Farads(), 0.Volts(), 1.Ohms())),
        ("seriesResistance", "-1 ohm", "zero or above", () => new CapacitorBank(1.Farads(), 5.Volts(), (-1).Ohms())),
        ("resistance", "-2 ohm", "zero or above", () => new Leads((-2).Ohms())),
        ("length", "0 m", "above zero", () => Leads.OfCopper(Length.Zero, 1.SquareCentimeters())),
        ("section", "-1 cm²", "above zero", () => Leads.OfCopper(1.Meters(), (-1).SquareCentimeters())),
        ("resistance", "-2 ohm", "zero or above", () => new StartSwitch((-2).Ohms())),
        ("bounce", "1 times", "an even number", () => new StartSwitch(0.Ohms(), [1.Milliseconds()])),
        ("bounce", "0 s", "above zero", () => new StartSwitch(0.Ohms(), [0.Milliseconds(), 1.Milliseconds()])),
        ("bounce", "1 ms", "later than 2 ms", () => new StartSwitch(0.Ohms(), [2.Milliseconds(), 1.Milliseconds()])),
        ("volts", "0 V", "above zero", () => Suppressor.Clamp(0.Volts())),

        ("sliding", "-0.1", "0 to 2", () => new GuideFriction(-0.1)),
        ("sliding", "NaN", "0 to 2", () => new GuideFriction(double.NaN)),
        ("sliding", "2.1", "0 to 2", () => new GuideFriction(2.1)),
        ("atRest", "0.1", "0.2 to 2", () => new GuideFriction(0.2, 0.1)),
        ("viscousAtOneMeterPerSecond", "-1 N", "zero or above", () => new GuideFriction(0.2, viscousAtOneMeterPerSecond: (-1).Newtons())),
        ("mass", "-40 g", "zero or above", () => new Payload((-40).Grams())),
        ("neededSpeed", "0 m/s", "above zero", () => new Payload(40.Grams(), 0.MetersPerSecond())),
        ("accelerationLimit", "-1 m/s²", "above zero", () => new Payload(40.Grams(), accelerationLimit: (-1).MetersPerSecondSquared())),
        ("sense", "0", "Plain, Crossed", () => new CoilMount(Coil, Length.Zero, 0)),
        ("circuit", "8", "0 to 7", () => new CoilMount(Coil, Length.Zero, circuit: 8)),
        ("mass", "0 kg", "above zero", () => new Sled(Mass.Zero, Coil)),
        ("coils", "empty", "one coil or more", () => new Sled(25.Grams(), [])),
        ("coils", "circuits 0, 2", "without a gap", () => new Sled(25.Grams(), [new CoilMount(Coil, Length.Zero), new CoilMount(Coil, 40.Millimeters(), circuit: 2)])),
        ("DragArea", "-1 cm²", "zero or above", () => new Sled(25.Grams(), Coil) { DragArea = (-1).SquareCentimeters() }),

        ("Slope", "91 °", "-90 ° to 90 °", () => Whole with { Slope = 91.Degrees() }),
        ("AirDensity", "-1 kg/m³", "zero or above", () => Whole with { AirDensity = Density.FromKilogramsPerCubicMeter(-1) }),
        ("CoilTemperature", "300 °C", "-40 °C to 200 °C", () => Whole with { CoilTemperature = 300.DegreesCelsius() }),
        ("StartSpeed", "-1 m/s", "zero or above", () => Whole with { StartSpeed = (-1).MetersPerSecond() }),
        ("RelativeTolerance", "0", "1 × 10⁻¹³ to 0.01", () => new LaunchOptions { RelativeTolerance = 0 }),
        ("RelativeTolerance", "NaN", "1 × 10⁻¹³ to 0.01", () => new LaunchOptions { RelativeTolerance = double.NaN }),
        ("CouplingAccuracy", "0.1", "1 × 10⁻¹¹ to 0.001", () => new LaunchOptions { CouplingAccuracy = 0.1 }),
        ("TimeLimit", "0 s", "above zero", () => new LaunchOptions { TimeLimit = Duration.Zero }),
        ("StallPatience", "-1 s", "above zero", () => new LaunchOptions { StallPatience = (-1).Seconds() }),
        ("StepLimit", "0", "1 or more", () => new LaunchOptions { StepLimit = 0 }),
    ];

    public static TheoryData<int, string> Cases
    {
        get
        {
            var data = new TheoryData<int, string>();
            for (int i = 0; i < Rows.Length; i++)
            {
                data.Add(i, $"{Rows[i].Name} = {Rows[i].Value}");
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Is_refused_with_name_value_range_and_reason(int index, string description)
    {
        (string name, string value, string range, Func<object> make) = Rows[index];
        ArgumentOutOfRangeException error = Assert.Throws<ArgumentOutOfRangeException>(make);
        Assert.True(name == error.ParamName, $"{description}: the exception names {error.ParamName}");
        Assert.StartsWith($"{name} is {value}", error.Message, StringComparison.Ordinal);
        int place = error.Message.IndexOf("it must be", StringComparison.Ordinal);
        Assert.Contains(range, error.Message[place..], StringComparison.Ordinal);

        // A reason stands behind the range.
        string reason = error.Message[(error.Message.IndexOf(range, place, StringComparison.Ordinal) + range.Length)..];
        Assert.Contains(": ", reason, StringComparison.Ordinal);
        Assert.True(reason.Length > 15, error.Message);
    }

    /// <summary>No number that is not finite becomes a quantity, and none that became one in spite of it enters a description.</summary>
    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void Nothing_that_is_not_finite_enters(double value)
    {
        Func<object>[] makers =
        [
            () => new Brush(value.Millimeters()),
            () => new Brush(3.Millimeters(), offset: value.Millimeters()),
            () => new Brush(3.Millimeters(), value.Ohms()),
            () => new Brush(3.Millimeters(), force: value.Newtons()),
            () => new ContactStrip(value.Meters(), 1.Meters(), Bus.Plus),
            () => new ContactStrip(0.Meters(), value.Meters(), Bus.Plus),
            () => ContactCommutator.For(Track, Coil, 0.8, value.Meters(), Brush),
            () => new BatteryPack(value.Volts(), 1.Ohms(), 1.AmpereHours()),
            () => new BatteryPack(1.Volts(), value.Ohms(), 1.AmpereHours()),
            () => new BatteryPack(1.Volts(), 1.Ohms(), value.AmpereHours()),
            () => new BenchSupply(value.Volts()),
            () => new BenchSupply(1.Volts(), value.Amperes()),
            () => new CapacitorBank(value.Farads(), 1.Volts(), 1.Ohms()),
            () => new Leads(value.Ohms()),
            () => new StartSwitch(value.Ohms()),
            () => new StartSwitch(0.Ohms(), [1.Milliseconds(), value.Seconds()]),
            () => Suppressor.Clamp(value.Volts()),
            () => new GuideFriction(value),
            () => new Payload(value.Grams()),
            () => new Payload(1.Grams(), value.MetersPerSecond()),
            () => new CoilMount(Coil, value.Meters()),
            () => new Sled(value.Grams(), Coil),
            () => Whole with { Slope = value.Degrees() },
            () => Whole with { Start = value.Meters() },
            () => Whole with { Release = value.Meters() },
            () => Whole with { StartSpeed = value.MetersPerSecond() },
            () => Whole with { CoilTemperature = value.DegreesCelsius() },
            () => new LaunchOptions { TimeLimit = value.Seconds() },
        ];
        Assert.All(makers, make => Assert.ThrowsAny<ArgumentException>(make));
    }

    [Fact]
    public void Null_is_refused_by_name()
    {
        Func<object>[] makers =
        [
            () => new ContactLine(null!),
            () => new ContactLine([null!]),
            () => new ContactCommutator(null!, Whole.Contacts.Lower, Brush),
            () => new ContactCommutator(Whole.Contacts.Upper, null!, Brush),
            () => new ContactCommutator(Whole.Contacts.Upper, Whole.Contacts.Lower, null!),
            () => ContactCommutator.For(null!, Coil, 0.8, Length.Zero, Brush),
            () => new CoilMount(null!, Length.Zero),
            () => new Sled(25.Grams(), (IEnumerable<CoilMount>)null!),
            () => new Sled(25.Grams(), [null!]),
            () => new Sled(25.Grams(), Coil) { Friction = null! },
            () => new Launcher(null!, Whole.Sled, Whole.Contacts, Whole.Source),
            () => new Launcher(Track, null!, Whole.Contacts, Whole.Source),
            () => new Launcher(Track, Whole.Sled, null!, Whole.Source),
            () => new Launcher(Track, Whole.Sled, Whole.Contacts, null!),
            () => Whole with { Track = null! },
            () => Whole with { Sled = null! },
            () => Whole with { Contacts = null! },
            () => Whole with { Source = null! },
            () => Whole with { Payload = null! },
            () => Whole with { Leads = null! },
            () => Whole with { Switch = null! },
            () => Whole with { Suppressor = null! },
        ];
        Assert.All(makers, make => Assert.NotNull(Assert.Throws<ArgumentNullException>(make).ParamName));
    }
}
