using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Launches for tests: from real parts, or from plain numbers where the answer is known in closed form.</summary>
internal static class LaunchBench
{
    /// <summary>The ledger of every test launch closes to this.</summary>
    public const double LedgerLimit = 1e-6;

    public static LaunchOptions Fine { get; } = new() { RelativeTolerance = 1e-11, CouplingAccuracy = 1e-10 };

    public static Coil Coil { get; } = Coil.Wind(
        Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2),
        CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
        180);

    public static Track TrackOf(int stations) => Track.OfFacingPairs(
        new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42.WithRemanence(1.3.Teslas())),
        10.Millimeters(),
        stations,
        20.Millimeters());

    /// <summary>Ten stations, battery, clamp, friction and drag.</summary>
    public static Launcher Whole(int stations = 10)
    {
        Track track = TrackOf(stations);
        var contacts = ContactCommutator.For(track, Coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters(), 4.Milliohms(), 0.8.Newtons()));
        var sled = new Sled(25.Grams(), Coil)
        {
            Friction = new GuideFriction(0.12, 0.18, 0.01.Newtons()),
            DragArea = 12.SquareCentimeters(),
        };
        return new Launcher(track, sled, contacts, new BatteryPack(37.Volts(), 45.Milliohms(), 2.AmpereHours()), new Payload(40.Grams()))
        {
            Leads = new Leads(12.Milliohms()),
            Switch = new StartSwitch(6.Milliohms()),
            Suppressor = Suppressor.Clamp(60.Volts()),
        };
    }

    /// <summary>Launches and demands that the ledger closes.</summary>
    public static LaunchResult Launch(Launcher launcher, LaunchOptions? options = null) => Checked(launcher.Launch(options));

    /// <summary>Launches plain numbers through the same engine and demands that the ledger closes.</summary>
    public static LaunchResult Launch(LauncherSi si, LaunchOptions options) => Checked(Simulation(si, options).Run());

    public static LaunchSimulation Simulation(LauncherSi si, LaunchOptions options) => new(Whole(2), options, si);

    public static LaunchResult Checked(LaunchResult result)
    {
        Assert.InRange(result.Ledger.RelativeResidual, 0, LedgerLimit);
        return result;
    }

    /// <summary>Strips in millimeters on both lines, brush length in millimeters.</summary>
    public static ContactCommutator Commutator(double brush, params (double From, double To, Bus Upper, Bus Lower)[] strips)
        => new(
            new ContactLine(strips.Select(s => new ContactStrip(s.From.Millimeters(), s.To.Millimeters(), s.Upper))),
            new ContactLine(strips.Select(s => new ContactStrip(s.From.Millimeters(), s.To.Millimeters(), s.Lower))),
            new Brush(brush.Millimeters()));

    /// <summary>One circuit in plain numbers (SI units).</summary>
    public static CircuitSi Circuit(Func<double, double> forceConstant, double resistance, DriveSchedule? schedule = null, double to = 1000, int cells = 1, double contact = 0)
        => new()
        {
            Curve = CircuitCurve.OfFunction(forceConstant, -10, to, cells),
            CoilResistance = resistance,
            UpperBrush = new BrushSi(contact),
            Schedule = schedule ?? DriveSchedule.Of(
                new ContactCommutator(
                    new ContactLine([new ContactStrip((-100).Meters(), 1e5.Meters(), Bus.Plus)]),
                    new ContactLine([new ContactStrip((-100).Meters(), 1e5.Meters(), Bus.Minus)]),
                    new Brush(1.Millimeters())),
                0),
        };

    /// <summary>A launcher in plain numbers (SI units).</summary>
    public static LauncherSi Si(
        CircuitSi[] circuits,
        double[] inductances,
        SourceSi source,
        double mass,
        double release,
        double start = 0,
        double startSpeed = 0,
        double resistance = 0,
        double clamp = double.PositiveInfinity,
        double sliding = 0,
        double atRest = 0,
        double viscous = 0,
        double drag = 0,
        double slope = 0,
        double[]? switchTimes = null,
        double patience = 0.25)
        => new()
        {
            Circuits = circuits,
            Inductances = inductances,
            Source = source,
            SourceResistance = source.Resistance + resistance,
            SwitchTimes = switchTimes ?? [],
            Suppressor = SuppressorSi.None with { ClampVolts = clamp },
            Mass = mass,
            SlidingFriction = sliding,
            RestFriction = Math.Max(atRest, sliding),
            Viscous = viscous,
            DragFactor = drag,
            SlopeForce = slope,
            Start = start,
            StartSpeed = startSpeed,
            Release = release,
            BackLimit = start - 1,
            StallPatience = patience,
        };
}
