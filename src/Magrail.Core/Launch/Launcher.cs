using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A whole launcher: track, sled, contacts, source and payload, and how they are wired and set up. Describe it, check it with
/// <see cref="Validate"/>, launch it with <see cref="Launch"/>.
/// </summary>
/// <remarks>
/// A launcher holds stored energy, high current, hot coils, sparks, magnets that pinch and a moving sled. What is computed
/// here replaces no guard, no fuse and no clear zone; local codes and licensed practice come first.
/// </remarks>
public sealed record Launcher
{
    /// <summary>Accuracy of the lateral force against its peak: it counts by the friction that it causes, a small part of the push.</summary>
    private const double SideAccuracy = 1e-5;

    /// <summary>Puts the parts together.</summary>
    /// <param name="track">The magnets along the path.</param>
    /// <param name="sled">The moving part with its coils.</param>
    /// <param name="contacts">Strips and brushes.</param>
    /// <param name="source">What feeds the strips.</param>
    /// <param name="payload">What is thrown; nothing by default.</param>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    public Launcher(Track track, Sled sled, ContactCommutator contacts, PowerSource source, Payload? payload = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        ArgumentNullException.ThrowIfNull(sled);
        ArgumentNullException.ThrowIfNull(contacts);
        ArgumentNullException.ThrowIfNull(source);
        Track = track;
        Sled = sled;
        Contacts = contacts;
        Source = source;
        Payload = payload ?? Payload.None;
    }

    /// <summary>The magnets along the path.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Track Track { get; init => field = Require.Present(value, nameof(Track)); }

    /// <summary>The moving part with its coils.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Sled Sled { get; init => field = Require.Present(value, nameof(Sled)); }

    /// <summary>Strips and brushes.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public ContactCommutator Contacts { get; init => field = Require.Present(value, nameof(Contacts)); }

    /// <summary>What feeds the strips.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public PowerSource Source { get; init => field = Require.Present(value, nameof(Source)); }

    /// <summary>What is thrown.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Payload Payload { get; init => field = Require.Present(value, nameof(Payload)); }

    /// <summary>Wiring from source to strips; ideal by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Leads Leads { get; init => field = Require.Present(value, nameof(Leads)); } = Leads.Ideal;

    /// <summary>The switch that starts the launch; ideal by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public StartSwitch Switch { get; init => field = Require.Present(value, nameof(Switch)); } = StartSwitch.Ideal;

    /// <summary>Where a coil's current goes when its contact opens; the ideal break by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Suppressor Suppressor { get; init => field = Require.Present(value, nameof(Suppressor)); } = Suppressor.IdealBreak;

    /// <summary>The arc that a parting contact draws; null (the default) for the ideal break, where a current without a way out dies at once.</summary>
    public ArcCharacteristic? Arc { get; init; }

    /// <summary>The rails that carry the current along the track; null (the default) for rails without resistance.</summary>
    public BusBars? BusBars { get; init; }

    /// <summary>
    /// Whether the coils warm up during the launch and their resistance with them, without losing heat; false by default: they keep
    /// <see cref="CoilTemperature"/>.
    /// </summary>
    public bool CoilsWarmUp { get; init; }

    /// <summary>
    /// What brings the sled to rest after the release; null (the default) where the run ends at the release. The end of its zone is the end of the track.
    /// </summary>
    public SledBrake? Brake { get; init; }

    /// <summary>What the parts bear, where they do not say themselves; the enamel's thermal class alone by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public Ratings Ratings { get; init => field = Require.Present(value, nameof(Ratings)); } = Ratings.Default;

    /// <summary>
    /// Whether to launch although a brush bridges strips of opposite rails, with the source shorted through it; false by default: that is a fault
    /// of the layout.
    /// </summary>
    public bool LaunchesWithBridges { get; init; }

    /// <summary>Angle of the track above the horizontal, −90° to 90°; zero by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Angle Slope
    {
        get;
        init => field = Require.InRange(value, Angle.FromDegrees(-90), Angle.FromDegrees(90), "the track points somewhere between straight down and straight up", nameof(Slope));
    } = Angle.Zero;

    /// <summary>Density of the air; 1.225 kg/m³ by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    [Source("ISO2533", "sea-level values")]
    public Density AirDensity
    {
        get;
        init => field = Require.NotNegative(value, "air has a mass", nameof(AirDensity));
    } = Density.FromKilogramsPerCubicMeter(PhysicalConstants.StandardAirDensity);

    /// <summary>Temperature of the coils during the launch, −40 °C to 200 °C; 20 °C by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Temperature CoilTemperature
    {
        get;
        init => field = Require.InRange(value, Temperature.FromDegreesCelsius(-40), Temperature.FromDegreesCelsius(200), "outside, the linear temperature coefficients mean nothing", nameof(CoilTemperature));
    } = Temperature.FromDegreesCelsius(20);

    /// <summary>Temperature of the magnets, −40 °C to 200 °C; 20 °C by default. Their remanence falls as it rises.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Temperature MagnetTemperature
    {
        get;
        init => field = Require.InRange(value, Temperature.FromDegreesCelsius(-40), Temperature.FromDegreesCelsius(200), "outside, the linear temperature coefficients mean nothing", nameof(MagnetTemperature));
    } = Temperature.FromDegreesCelsius(20);

    /// <summary>
    /// Position of the sled's mark at the start; null (the default) for the first place on the track where some circuit's
    /// brushes lie wholly on strips that drive it (the middle of that stretch, where it is shorter than two brushes).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Length? Start
    {
        get;
        init => field = value is Length place ? Require.Finite(place, "the sled starts somewhere", nameof(Start)) : null;
    }

    /// <summary>Speed at the start, for a sled pushed into the first strip; zero by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Speed StartSpeed
    {
        get;
        init => field = Require.NotNegative(value, "the sled is pushed in the direction of travel", nameof(StartSpeed));
    } = Speed.Zero;

    /// <summary>
    /// Position of the sled's mark at which the payload is released; null (the default) for the place where the last brush
    /// leaves the last strip.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Length? Release
    {
        get;
        init => field = value is Length place ? Require.Finite(place, "the payload is released somewhere", nameof(Release)) : null;
    }

    /// <summary>Mass that is accelerated: carriage, coils and payload.</summary>
    public Mass MovingMass => Sled.MassWithCoils + Payload.Mass;

    /// <summary>Finds every fault between the parts.</summary>
    /// <returns>All faults together; empty where the launcher can be launched.</returns>
    public IReadOnlyList<LauncherFault> Validate()
    {
        List<LauncherFault> faults = [];
        CheckLine("upper contact line", Contacts.Upper, faults);
        CheckLine("lower contact line", Contacts.Lower, faults);
        CheckMagnets(faults);
        CheckCoilsInGap(faults);
        CheckCoilPaths(faults);
        CheckCoilsApart(faults);
        DriveSchedule[] schedules = Schedules();
        CheckBridges(schedules, faults);
        CheckTravel(schedules, faults);
        CheckSuppressor(faults);
        CheckBars(schedules, faults);
        CheckBrake(faults);
        return faults;
    }

    /// <summary>Checks, compiles the coupling and launches once.</summary>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <returns>The result; a run that does not finish is an outcome, not an exception.</returns>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public LaunchResult Launch(LaunchOptions? options = null) => Prepare(options).Run();

    /// <summary>Checks and compiles the coupling, for launching many times.</summary>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public LaunchSimulation Prepare(LaunchOptions? options = null)
    {
        IReadOnlyList<LauncherFault> faults = Validate();
        return faults.Count > 0 ? throw new LauncherDescriptionException(faults) : new LaunchSimulation(this, options ?? LaunchOptions.Default);
    }

    /// <summary>The launcher in words, a line a part.</summary>
    public override string ToString()
        => string.Join(
            Environment.NewLine,
            new object?[] { Track, Sled, Contacts, Source, Payload, Leads, BusBars, Switch, Suppressor, Arc, Brake }.Where(part => part is not null));

    internal LauncherSi ToSi(LaunchOptions options)
    {
        DriveSchedule[] schedules = Schedules();
        (double start, double release) = Travel(schedules);
        double pitch = (Track.Positions[Track.StationCount - 1].Meters - Track.Positions[0].Meters) / Math.Max(1, Track.StationCount - 1);
        double margin = Math.Max(pitch, 1e-3);
        double backLimit = start - margin;
        SledBrake? brake = Brake;
        double trackEnd = brake is null ? release : release + brake.Start.Meters + brake.Length.Meters;

        // A step may reach past either end before the event there is located: the curve goes on, or it would jump. It ends at whole pitches, so that
        // launchers that differ in their strips alone share it.
        double origin = Track.Positions[0].Meters;
        double curveFrom = origin + (margin * Math.Floor((backLimit - margin - origin) / margin));
        double curveTo = origin + (margin * Math.Ceiling((trackEnd + margin - origin) / margin));
        int n = Sled.CircuitCount;
        CoilMount[][] mounts = [.. Enumerable.Range(0, n).Select(k => Sled.Coils.Where(mount => mount.Circuit == k).ToArray())];
        var circuits = new CircuitSi[n];
        double[] inductances = new double[n * n];
        for (int k = 0; k < n; k++)
        {
            CircuitCoil[] coils = [.. mounts[k].Select(mount => new CircuitCoil(mount.Coil, mount.Offset.Meters, (int)mount.Sense))];
            CircuitCurve Curve(TrackAxis component, double accuracy) => CircuitCurve.Compile(
                Track, coils, curveFrom, curveTo, accuracy, MagnetTemperature, component, Sled.OffsetAcross.Meters, Sled.OffsetUp.Meters);

            circuits[k] = new CircuitSi
            {
                Curve = Curve(TrackAxis.Along, options.CouplingAccuracy),
                Across = HasSideForce(mounts[k], TrackAxis.Across) ? Curve(TrackAxis.Across, SideAccuracy) : null,
                Up = HasSideForce(mounts[k], TrackAxis.Up) ? Curve(TrackAxis.Up, SideAccuracy) : null,
                CoilResistance = mounts[k].Sum(mount => mount.Coil.ResistanceAt(CoilTemperature).Ohms),
                Heating = CoilsWarmUp ? [.. mounts[k].Select(mount => Heating(mount.Coil))] : [],
                UpperBrush = Contacts.UpperBrush.ToSi(),
                LowerBrush = Contacts.LowerBrush.ToSi(),
                Schedule = schedules[k],
            };
            for (int j = 0; j <= k; j++)
            {
                double sum = 0;
                foreach (CoilMount a in mounts[k])
                {
                    foreach (CoilMount b in mounts[j])
                    {
                        double mutual = ReferenceEquals(a, b)
                            ? a.Coil.Inductance.Henries
                            : MutualInductance.Between(a.Coil, b.Coil, Length.FromMeters(Math.Abs(a.Offset.Meters - b.Offset.Meters))).Henries;
                        sum += (int)a.Sense * (int)b.Sense * mutual;
                    }
                }

                inductances[(k * n) + j] = sum;
                inductances[(j * n) + k] = sum;
            }
        }

        SourceSi source = Source.ToSi();
        double mass = MovingMass.Kilograms;
        double brushForce = n * (Contacts.UpperBrush.Force.Newtons + Contacts.LowerBrush.Force.Newtons);
        double sledMass = Sled.MassWithCoils.Kilograms;
        double Normal(double carried) => (carried * PhysicalConstants.StandardGravity * Math.Cos(Slope.Radians)) + brushForce;
        double normal = Normal(mass);
        return new LauncherSi
        {
            Circuits = circuits,
            Inductances = inductances,
            Source = source,
            SourceResistance = source.Resistance + Leads.Resistance.Ohms + Switch.Resistance.Ohms,
            SwitchTimes = [.. Switch.Bounce.Select(time => time.Seconds)],
            Suppressor = new SuppressorSi(Suppressor.ClampVolts, Suppressor.Conductance, Suppressor.Capacitance),
            Arc = Arc?.ToSi(),
            BusBars = BusBars?.ToSi(),
            Braking = brake is null ? null : new BrakingSi
            {
                Mass = sledMass,
                SlidingFriction = Sled.Friction.Sliding * Normal(sledMass),
                RestFriction = Sled.Friction.AtRest * Normal(sledMass),
                SlopeForce = sledMass * PhysicalConstants.StandardGravity * Math.Sin(Slope.Radians),
                Brake = brake.ToSi(),
                TrackEnd = trackEnd,
            },
            Mass = mass,
            SlidingCoefficient = Sled.Friction.Sliding,
            RestCoefficient = Sled.Friction.AtRest,
            SlidingFriction = Sled.Friction.Sliding * normal,
            RestFriction = Sled.Friction.AtRest * normal,
            Viscous = Sled.Friction.ViscousAtOneMeterPerSecond.Newtons,
            DragFactor = 0.5 * AirDensity.KilogramsPerCubicMeter * Sled.DragArea.SquareMeters,
            SlopeForce = mass * PhysicalConstants.StandardGravity * Math.Sin(Slope.Radians),
            Start = start,
            StartSpeed = StartSpeed.MetersPerSecond,
            Release = release,
            BackLimit = backLimit,
            StallPatience = options.StallPatience.Seconds,
        };
    }

    /// <summary>A coil that warms up by its own heat alone.</summary>
    internal CoilHeatSi Heating(Coil coil)
    {
        double capacity = coil.HeatCapacity;
        double growth = coil.Wire.Conductor.TemperatureCoefficient.PerKelvin * coil.Resistance.Ohms / capacity;
        return new CoilHeatSi(coil.ResistanceAt(CoilTemperature).Ohms, growth, capacity);
    }

    /// <summary>Whether the guide may feel a lateral force: there is friction, and the coils are off the middle or the stations lopsided.</summary>
    internal bool HasSideForce(IReadOnlyCollection<CoilMount> mounts, TrackAxis side)
    {
        if (Sled.Friction.AtRest == 0 || !Sled.Friction.CountsLateralForce)
        {
            return false;
        }

        bool off = (side == TrackAxis.Across ? Sled.OffsetAcross : Sled.OffsetUp).Meters != 0;
        return off || Track.ToSi().Stations.Distinct().Any(station => mounts.Any(mount => !station.IsMirrored(mount.Coil.Axis, side)));
    }

    private static void CheckLine(string name, ContactLine line, List<LauncherFault> faults)
    {
        for (int i = 1; i < line.Strips.Length; i++)
        {
            ContactStrip before = line.Strips[i - 1];
            ContactStrip strip = line.Strips[i];
            if (strip.Start.Meters < before.End.Meters)
            {
                faults.Add(new LauncherFault(
                    name,
                    string.Create(CultureInfo.InvariantCulture, $"strips {i - 1} and {i} are out of order or overlap: {before}, then {strip}; each strip must begin at or beyond the end of the one before it")));
            }
        }
    }

    private void CheckMagnets(List<LauncherFault> faults)
    {
        foreach (MagnetGrade grade in Track.Stations.Distinct().SelectMany(station => station.Magnets).Select(magnet => magnet.Body.Grade).Distinct())
        {
            if (MagnetTemperature.Kelvins > grade.GreatestServiceTemperature.Kelvins)
            {
                faults.Add(new LauncherFault(
                    "magnets",
                    $"the magnets' temperature is {Show.Quantity(MagnetTemperature)}; {grade.Name} bears {Show.Quantity(grade.GreatestServiceTemperature)} at most: above, it loses remanence for good"));
            }
        }
    }

    private void CheckCoilsInGap(List<LauncherFault> faults)
    {
        if (Track.Gap is not Length gap)
        {
            return;
        }

        foreach (Coil coil in Sled.Coils.Select(mount => mount.Coil).Distinct())
        {
            if (coil.Former.Length.Meters >= gap.Meters)
            {
                faults.Add(new LauncherFault(
                    "coil and gap",
                    $"the coil is {Show.Quantity(coil.Former.Length)} long across a gap of {Show.Quantity(gap)}; it must be shorter than the gap, or it does not pass between the magnets"));
            }
        }
    }

    private void CheckCoilPaths(List<LauncherFault> faults)
    {
        foreach (Coil coil in Sled.Coils.Select(mount => mount.Coil).Distinct())
        {
            bool tooLong = coil.Axis == TrackAxis.Across && Track.Gap is Length gap && coil.Former.Length.Meters >= gap.Meters;
            Length clearance = CoilClearance.Between(coil, Track, Sled.OffsetAcross, Sled.OffsetUp);
            if (!tooLong && clearance.Meters < 0)
            {
                faults.Add(new LauncherFault(
                    "coil and magnets",
                    $"the coil would run into a magnet: on its way its winding overlaps one by {Show.Quantity(-clearance)}; the path must be clear"));
            }
        }

        if (Sled.Coils.Select(mount => mount.Coil.Axis).Distinct().Count() > 1)
        {
            faults.Add(new LauncherFault(
                "coils on the sled",
                "some coils have their axis along the track and some across; all must have it the same way: mutual inductance is computed for parallel axes alone"));
        }
    }

    private void CheckCoilsApart(List<LauncherFault> faults)
    {
        CoilMount[] mounts = [.. Sled.Coils.OrderBy(mount => mount.Offset.Meters)];
        for (int i = 1; i < mounts.Length; i++)
        {
            double apart = mounts[i].Offset.Meters - mounts[i - 1].Offset.Meters;
            double needed = 0.5 * (mounts[i].Coil.ExtentAlong.Meters + mounts[i - 1].Coil.ExtentAlong.Meters);
            if (apart < needed)
            {
                faults.Add(new LauncherFault(
                    "coils on the sled",
                    $"coils at {Show.Quantity(mounts[i - 1].Offset)} and {Show.Quantity(mounts[i].Offset)} overlap: their middles are {Show.Quantity(Length.FromMeters(apart))} apart and need {Show.Quantity(Length.FromMeters(needed))}"));
            }
        }
    }

    private void CheckBridges(DriveSchedule[] schedules, List<LauncherFault> faults)
    {
        SourceSi source = Source.ToSi();
        foreach (bool upper in (bool[])[true, false])
        {
            DriveSchedule.Bridge[] bridges = [.. schedules.SelectMany(schedule => schedule.Bridges).Where(bridge => bridge.Upper == upper).OrderBy(bridge => bridge.From)];
            Brush brush = upper ? Contacts.UpperBrush : Contacts.LowerBrush;
            if (bridges.Length == 0 || (LaunchesWithBridges && brush.Resistance.Ohms > 0))
            {
                continue;
            }

            // One brush on two strips: each touches half of it, so each contact has twice the resistance, and the two are in series.
            double loop = source.Resistance + Leads.Resistance.Ohms + Switch.Resistance.Ohms + (4 * brush.Resistance.Ohms);
            double current = loop > 0 ? Math.Min(source.Volts / loop, source.CurrentLimit) : source.CurrentLimit;
            string drawn = double.IsFinite(current) ? $"about {Show.Quantity(ElectricCurrent.FromAmperes(current))}" : "a current that nothing limits";
            string longest = (upper ? Contacts.Upper : Contacts.Lower).ShortestOppositeGap is Length gap && gap.Meters > 0 ? $" The brush must be shorter than the shortest such gap, {Show.Quantity(gap)}." : "";
            faults.Add(new LauncherFault(
                "brush and strips",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"the {(upper ? "upper" : "lower")} brush of {Show.Quantity(brush.Length)} bridges strips of opposite rails in {bridges.Length} {(bridges.Length == 1 ? "place" : "places")}, first with the sled at {Show.Quantity(Length.FromMeters(bridges[0].From))}, and shorts the source: it would draw {drawn}.{longest}")));
        }
    }

    private void CheckTravel(DriveSchedule[] schedules, List<LauncherFault> faults)
    {
        (double start, double release) = Travel(schedules);
        double first = Track.Positions[0].Meters;
        double last = Track.Positions[Track.StationCount - 1].Meters;
        double least = Sled.Coils.Min(mount => mount.Offset.Meters);
        double most = Sled.Coils.Max(mount => mount.Offset.Meters);
        double half = 0.5 * Track.Pitch.Meters;
        if (start + most < first - half || start + least > last + half)
        {
            faults.Add(new LauncherFault(
                "start and track",
                $"the coil starts outside the track: the sled stands at {Show.Quantity(Length.FromMeters(start))}, the stations lie from {Show.Quantity(Length.FromMeters(first))} to {Show.Quantity(Length.FromMeters(last))}"));
        }

        const double FarthestMeters = 1000;
        if (Math.Abs(start) > FarthestMeters || Math.Abs(release) > FarthestMeters)
        {
            faults.Add(new LauncherFault(
                "start and release",
                $"start at {Show.Quantity(Length.FromMeters(start))} and release at {Show.Quantity(Length.FromMeters(release))} must lie within {Show.Quantity(Length.FromMeters(FarthestMeters))} of the first station: no bench is longer"));
        }

        if (release <= start)
        {
            faults.Add(new LauncherFault(
                "start and release",
                $"the release at {Show.Quantity(Length.FromMeters(release))} lies at or before the start at {Show.Quantity(Length.FromMeters(start))}; it must lie beyond it"));
        }

        if (StartSpeed.MetersPerSecond == 0 && schedules.All(schedule => schedule.Drives[schedule.IndexAt(start, 1)] is CoilDrive.Open or CoilDrive.Shorted))
        {
            faults.Add(new LauncherFault(
                "start and strips",
                $"no coil is fed where the sled stands, {Show.Quantity(Length.FromMeters(start))}: start it on a strip, or give it a start speed that pushes it onto one"));
        }
    }

    private void CheckBars(DriveSchedule[] schedules, List<LauncherFault> faults)
    {
        if (BusBars is not BusBars bars)
        {
            return;
        }

        (double start, double release) = Travel(schedules);
        if (bars.From.Meters > start || bars.To.Meters < release)
        {
            faults.Add(new LauncherFault(
                "bus bars",
                $"they run from {Show.Quantity(bars.From)} to {Show.Quantity(bars.To)}; they must reach along the whole way of the sled, {Show.Quantity(Length.FromMeters(start))} to {Show.Quantity(Length.FromMeters(release))}"));
        }
    }

    private void CheckBrake(List<LauncherFault> faults)
    {
        if (Brake is SledBrake brake && brake.Start.Meters < 0)
        {
            faults.Add(new LauncherFault(
                "brake",
                $"its zone starts {Show.Quantity(-brake.Start)} before the release; it must start at the release or beyond it, or it slows the payload down"));
        }
    }

    private void CheckSuppressor(List<LauncherFault> faults)
    {
        if (Arc is ArcCharacteristic arc && !arc.ToSi().IsColumn && Suppressor.Conductance > 0)
        {
            faults.Add(new LauncherFault(
                "arc and suppressor",
                $"{arc.Name} depends on the current, and what lies across the coil makes the arc's current differ from the coil's; take an arc with a column of constant field, or a clamp, or no suppressor"));
        }

        double volts = Source.ToSi().Volts;
        if (Suppressor.ClampVolts <= volts)
        {
            faults.Add(new LauncherFault(
                "clamp and source",
                $"the clamp at {Show.Quantity(ElectricPotential.FromVolts(Suppressor.ClampVolts))} must lie above the source's {Show.Quantity(ElectricPotential.FromVolts(volts))}, or it conducts all the time while the coil is fed"));
        }
    }

    private DriveSchedule[] Schedules()
        => [.. Enumerable.Range(0, Sled.CircuitCount).Select(k => DriveSchedule.Of(Contacts, Sled.Coils.First(mount => mount.Circuit == k).Offset.Meters))];

    /// <summary>Where the sled's mark is at the start and at the release.</summary>
    internal (Length Start, Length Release) TravelEnds()
    {
        (double start, double release) = Travel(Schedules());
        return (Length.FromMeters(start), Length.FromMeters(release));
    }

    private (double Start, double Release) Travel(DriveSchedule[] schedules)
    {
        double start = Start?.Meters ?? DefaultStart(schedules);
        double release = Release?.Meters ?? schedules.Max(schedule => schedule.Edges.Length == 0 ? start : schedule.Edges[^1]);
        return (start, release);
    }

    /// <summary>The first place where some circuit is driven, plus a brush's length if that is still driven.</summary>
    private double DefaultStart(DriveSchedule[] schedules)
    {
        double best = double.PositiveInfinity;
        foreach (DriveSchedule schedule in schedules)
        {
            for (int i = 1; i < schedule.Edges.Length; i++)
            {
                if (schedule.Drives[i] is CoilDrive.Forward or CoilDrive.Reverse)
                {
                    double brush = Math.Max(Contacts.UpperBrush.Length.Meters, Contacts.LowerBrush.Length.Meters);
                    double place = Math.Min(schedule.Edges[i - 1] + brush, 0.5 * (schedule.Edges[i - 1] + schedule.Edges[i]));
                    best = Math.Min(best, place);
                    break;
                }
            }
        }

        return double.IsFinite(best) ? best : Track.Positions[0].Meters;
    }
}
