using FsCheck;
using FsCheck.Fluent;
using Magrail.Sources;
using UnitsNet;

namespace Magrail.Laws;

/// <summary>
/// Generators of launchers that can be launched: facing pairs of block magnets, 3 to 10 stations, wound coils that pass the
/// gap, one coil, two in series, or two circuits, every kind of source, clamp or ideal break, friction, drag, slope, payload.
/// </summary>
/// <remarks>
/// Sizes are drawn from a short list of bench-top geometries, so that the coupling of coil and station, which is kept by
/// geometry, is computed a few times only; everything else varies freely. Not every launcher that is generated reaches its
/// release: some stall, some run back.
/// Register <see cref="LauncherArbitraries"/> to have them as arguments of properties.
/// </remarks>
public static class LauncherGenerators
{
    // Millimeters: magnet along, across, height; pitch; gap; former width, height, corner, length; bare wire; turns.
    private static readonly Geometry[] Geometries =
    [
        new(12, 6, 20, 20, 10, 8, 18, 3, 7, 0.5, 84),
        new(10, 5, 10, 15, 8, 6, 8, 2, 5.5, 0.4, 72),
        new(20, 10, 20, 28, 12, 12, 20, 6, 8, 0.71, 66),
        new(15, 4, 30, 24, 9, 10, 28, 4, 6, 0.63, 40),
        new(8, 8, 8, 14, 11, 5, 5, 2.5, 8, 0.315, 130),
    ];

    /// <summary>Tracks of facing pairs of alternating polarity, 3 to 10 stations.</summary>
    public static Gen<Track> Tracks
        => from geometry in Gen.Elements(Geometries)
           from grade in Grades
           from stations in Gen.Choose(3, 10)
           select geometry.Track(grade, stations);

    /// <summary>Launchers of every kind.</summary>
    public static Gen<Launcher> Launchers
        => from geometry in Gen.Elements(Geometries)
           from grade in Grades
           from stations in Gen.Choose(3, 10)
           from arrangement in Gen.Elements(Arrangement.OneCoil, Arrangement.OneCoil, Arrangement.Series, Arrangement.TwoCircuits)
           from dwell in Between(0.5, 0.9)
           from lead in Between(-0.05, 0.15)
           from brushPart in Between(0.1, 0.2)
           from source in Sources
           from suppressor in SuppressorsFor(source)
           from sled in SledTraits
           from place in Surroundings
           select geometry.Launcher(grade, stations, arrangement, dwell, lead, brushPart, source, suppressor, sled, place);

    /// <summary>Bench supplies with and without limit, batteries, capacitor banks.</summary>
    public static Gen<PowerSource> Sources
        => Gen.OneOf(
            from volts in Between(6, 60)
            select (PowerSource)new BenchSupply(ElectricPotential.FromVolts(volts)),
            from volts in Between(6, 60)
            from limit in Between(2, 40)
            from ohms in Between(0, 0.2)
            select (PowerSource)new BenchSupply(ElectricPotential.FromVolts(volts), ElectricCurrent.FromAmperes(limit), ElectricResistance.FromOhms(ohms)),
            from volts in Between(6, 48)
            from ohms in Between(0.01, 0.5)
            select (PowerSource)new BatteryPack(ElectricPotential.FromVolts(volts), ElectricResistance.FromOhms(ohms), ElectricCharge.FromAmpereHours(2)),
            from volts in Between(10, 80)
            from millifarads in Between(0.5, 50)
            from ohms in Between(0, 0.3)
            select (PowerSource)new CapacitorBank(ElectricCapacitance.FromMillifarads(millifarads), ElectricPotential.FromVolts(volts), ElectricResistance.FromOhms(ohms)));

    /// <summary>The ideal break and clamps at 1.05 to 5 times a source's voltage.</summary>
    /// <param name="source">The source; a clamp below its voltage would conduct all the time.</param>
    /// <exception cref="ArgumentNullException">The source is null.</exception>
    public static Gen<Suppressor> SuppressorsFor(PowerSource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        double volts = LaunchLaws.VoltsOf(source);
        return Gen.OneOf(
            Gen.Constant(Suppressor.IdealBreak),
            from times in Between(1.05, 5)
            select Suppressor.Clamp(ElectricPotential.FromVolts(times * volts)),
            from ohms in Between(0.5, 5)
            select Suppressor.Resistor(ElectricResistance.FromOhms(ohms)),
            from ohms in Between(1, 5)
            from microfarads in Between(10, 100)
            select Suppressor.SeriesRC(ElectricResistance.FromOhms(ohms), ElectricCapacitance.FromMicrofarads(microfarads)));
    }

    private static Gen<MagnetGrade> Grades
        => Gen.Elements(MagnetGrade.N35, MagnetGrade.N42, MagnetGrade.N48, MagnetGrade.N52);

    private static Gen<SledTrait> SledTraits
        => from grams in Between(15, 80)
           from payload in Gen.OneOf(Gen.Constant(0.0), Between(5, 60))
           from sliding in Gen.OneOf(Gen.Constant(0.0), Between(0.02, 0.3))
           from extra in Gen.OneOf(Gen.Constant(0.0), Between(0, 0.1))
           from viscous in Gen.OneOf(Gen.Constant(0.0), Between(0, 0.05))
           from drag in Gen.OneOf(Gen.Constant(0.0), Between(1, 20))
           select new SledTrait(grams, payload, sliding, sliding + extra, viscous, drag);

    private static Gen<Surrounding> Surroundings
        => from slope in Gen.OneOf(Gen.Constant(0.0), Between(-15, 30))
           from push in Gen.OneOf(Gen.Constant(0.0), Gen.Constant(0.0), Between(0.2, 2))
           from celsius in Between(10, 90)
           from leads in Gen.OneOf(Gen.Constant(0.0), Between(0, 0.2))
           from bounces in Gen.Elements(false, false, true)
           from extras in Extras
           select new Surrounding(slope, push, celsius, leads, bounces, extras);

    private static Gen<Extra> Extras
        => from arc in Gen.OneOf(
               Gen.Constant<ArcCharacteristic?>(null),
               from fall in Between(9, 16)
               from perMeter in Between(200, 5000)
               from amperes in Between(0.1, 0.8)
               select (ArcCharacteristic?)ArcCharacteristic.Column(ElectricPotential.FromVolts(fall), ElectricField.FromVoltsPerMeter(perMeter), ElectricCurrent.FromAmperes(amperes)))
           from bars in Gen.OneOf(Gen.Constant(0.0), Between(1, 50))
           from feed in Gen.Elements(BusFeed.Start, BusFeed.End, BusFeed.Both)
           from warm in Gen.Elements(false, true)
           from contact in Gen.OneOf(Gen.Constant(0.0), Between(0.2, 5))
           from brake in Gen.Choose(0, 3)
           from stop in Between(0.05, 0.6)
           from aside in Gen.Elements(0.0, 0.0, 0.0, 0.25)
           from drop in Gen.OneOf(Gen.Constant(0.0), Gen.Constant(0.0), Between(0.1, 1.5))
           select new Extra(arc, bars, feed, warm, contact, brake, stop, aside, drop);

    private enum Arrangement
    {
        OneCoil,
        Series,
        TwoCircuits,
    }

    /// <summary>Numbers spread evenly between two bounds, on a grid of a thousand steps.</summary>
    /// <param name="least">The least.</param>
    /// <param name="greatest">The greatest.</param>
    [return: Dimensionless]
    internal static Gen<double> Between([Dimensionless] double least, [Dimensionless] double greatest)
        => from step in Gen.Choose(0, 1000)
           select least + ((greatest - least) * step / 1000);

    private sealed record SledTrait(double Grams, double Payload, double Sliding, double AtRest, double Viscous, double Drag);

    private sealed record Surrounding(double Slope, double Push, double Celsius, double Leads, bool Bounces, Extra Extra);

    /// <summary>What makes a launch differ from the ideal one: arc, milliohms of bars, warming coils, milliohms of contact that follow the overlap, brake, its room, part of the clearance by which the coils run off the middle, volts of drop of each brush.</summary>
    private sealed record Extra(ArcCharacteristic? Arc, double Bars, BusFeed Feed, bool Warm, double Contact, int Brake, double Stop, double Aside, double Drop);

    private sealed record Geometry(
        double Along,
        double Across,
        double Height,
        double Pitch,
        double Gap,
        double Width,
        double Tall,
        double Corner,
        double Length,
        double Bare,
        int Turns)
    {
        public Track Track(MagnetGrade grade, int stations)
            => Magrail.Track.OfFacingPairs(new BlockMagnet(Mm(Along), Mm(Across), Mm(Height), grade), Mm(Gap), stations, Mm(Pitch));

        public Launcher Launcher(
            MagnetGrade grade,
            int stations,
            Arrangement arrangement,
            double dwell,
            double lead,
            double brushPart,
            PowerSource source,
            Suppressor suppressor,
            SledTrait sled,
            Surrounding place)
        {
            Track track = Track(grade, stations);
            Coil coil = Coil.Wind(
                Wire.Copper(WireGauge.Metric(Mm(Bare)), EnamelGrade.Grade1),
                CoilFormer.Rounded(Mm(Width), Mm(Tall), Mm(Corner), Mm(Length)),
                Turns);
            Extra extra = place.Extra;
            Brush brush = extra.Contact > 0
                ? new Brush(
                    Mm(brushPart * Pitch),
                    new ContactResistance(ElectricResistance.FromMilliohms(extra.Contact), ElectricResistance.FromMilliohms(0.3 * extra.Contact), ElectricResistance.FromMilliohms(0.5 * extra.Contact)),
                    Force.FromNewtons(1))
                : new Brush(Mm(brushPart * Pitch));
            brush = brush with { Drop = ElectricPotential.FromVolts(extra.Drop) };
            var contacts = ContactCommutator.For(track, coil, dwell, Mm(lead * Pitch), brush);
            UnitsNet.Length stop = UnitsNet.Length.FromMeters(extra.Stop);

            // The least odd number of pitches at which two coils do not touch.
            int apart = coil.OuterWidth.Millimeters < Pitch ? 1 : 3;
            CoilMount first = new(coil, UnitsNet.Length.Zero);
            CoilMount[] mounts = arrangement switch
            {
                Arrangement.Series => [first, new(coil, Mm(apart * Pitch), WindingSense.Crossed)],
                Arrangement.TwoCircuits => [first, new(coil, Mm((apart + 0.5) * Pitch), circuit: 1)],
                _ => [first],
            };
            return new Launcher(
                track,
                new Sled(Mass.FromGrams(sled.Grams), mounts)
                {
                    Friction = new GuideFriction(sled.Sliding, sled.AtRest, Force.FromNewtons(sled.Viscous)),
                    DragArea = Area.FromSquareCentimeters(sled.Drag),
                    OffsetAcross = Mm(0.5 * extra.Aside * (Gap - Length)),
                },
                contacts,
                source,
                sled.Payload > 0 ? new Payload(Mass.FromGrams(sled.Payload)) : null)
            {
                Suppressor = suppressor,
                Arc = extra.Arc,
                BusBars = extra.Bars > 0
                    ? new BusBars(ElectricResistance.FromMilliohms(extra.Bars), -Mm(2 * Pitch), track.Positions[^1] + Mm(4 * Pitch), extra.Feed)
                    : null,
                CoilsWarmUp = extra.Warm,
                Brake = extra.Brake switch
                {
                    1 => SledBrake.Friction(UnitsNet.Length.Zero, stop, Force.FromNewtons(8)),
                    2 => SledBrake.Spring(Mm(5), stop, ForcePerLength.FromNewtonsPerMeter(150)),
                    3 => SledBrake.EddyCurrent(Mm(2), stop, Force.FromNewtons(6), Speed.FromMetersPerSecond(2)),
                    _ => null,
                },
                Slope = Angle.FromDegrees(place.Slope),
                StartSpeed = Speed.FromMetersPerSecond(place.Push),
                CoilTemperature = Temperature.FromDegreesCelsius(place.Celsius),
                Leads = place.Leads > 0 ? new Leads(ElectricResistance.FromOhms(place.Leads)) : Leads.Ideal,
                Switch = place.Bounces
                    ? new StartSwitch(ElectricResistance.FromMilliohms(2), [Duration.FromMilliseconds(0.5), Duration.FromMilliseconds(0.8)])
                    : StartSwitch.Ideal,
            };
        }

        private static Length Mm(double millimeters) => UnitsNet.Length.FromMillimeters(millimeters);
    }
}

/// <summary>Registers <see cref="LauncherGenerators"/> with FsCheck: name it in a property's <c>Arbitrary</c>.</summary>
public static class LauncherArbitraries
{
    /// <summary>Launchers of every kind.</summary>
    public static Arbitrary<Launcher> Launchers() => LauncherGenerators.Launchers.ToArbitrary();

    /// <summary>Tracks of facing pairs.</summary>
    public static Arbitrary<Track> Tracks() => LauncherGenerators.Tracks.ToArbitrary();
}
