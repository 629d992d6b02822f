using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>
/// What is needed to wind a coil, and what to measure when it is wound: wire, former, turns by layer, wire to cut, and resistance, mass and inductance
/// with the range in which they are accepted.
/// </summary>
/// <remarks>
/// R = ρ l/A. The range of the resistance is that of the conductor's diameter, which counts twice, and of the mean turn. Tension while winding stretches a thin wire and
/// raises its resistance further; that is not counted.
/// </remarks>
public sealed class WindingSheet
{
    private const double InductancePower = 2;

    private static readonly double[] BenchCelsius = [15, 20, 25, 30];

    private readonly WorkshopOptions options;

    private WindingSheet(Coil coil, WorkshopOptions options, ImmutableArray<string> uses)
    {
        this.options = options;
        Coil = coil;
        Uses = uses;
        (DiameterTolerance, ToleranceSource) = options.DiameterTolerance is Length given ? (given, "as given") : ConductorTolerance.Of(coil.Wire.Gauge);
        double off = DiameterTolerance / coil.Wire.BareDiameter;
        if (off >= 0.5)
        {
            throw Require.Fault(nameof(options), Show.Quantity(DiameterTolerance), $"below half the wire's diameter, {Show.Quantity(coil.Wire.BareDiameter)}", "a tolerance as large as the wire says nothing");
        }

        Layers = LayersOf(coil);
        CutLength = Length.FromMeters((coil.WireLength.Meters * (1 + options.WireAllowance.DecimalFractions)) + (2 * options.WireTail.Meters));
        double turn = options.TurnTolerance.DecimalFractions;
        double ohms = coil.Resistance.Ohms;
        Resistance = new(
            coil.Resistance,
            ElectricResistance.FromOhms(ohms * (1 - turn) / ((1 + off) * (1 + off))),
            ElectricResistance.FromOhms(ohms * (1 + turn) / ((1 - off) * (1 - off))));
        double kilograms = coil.Mass.Kilograms;
        Mass = new(coil.Mass, UnitsNet.Mass.FromKilograms(kilograms * (1 - turn) * (1 - off) * (1 - off)), UnitsNet.Mass.FromKilograms(kilograms * (1 + turn) * (1 + off) * (1 + off)));
        double henries = coil.Inductance.Henries + coil.WireInductanceShare.Henries;
        Inductance = new(
            ElectricInductance.FromHenries(henries),
            ElectricInductance.FromHenries(henries * (1 - (InductancePower * turn))),
            ElectricInductance.FromHenries(henries * (1 + (InductancePower * turn))));
    }

    /// <summary>The coil.</summary>
    public Coil Coil { get; }

    /// <summary>Where such coils sit on the sled, one entry for each coil to wind; empty for a coil alone.</summary>
    public ImmutableArray<string> Uses { get; }

    /// <summary>How many such coils are to be wound.</summary>
    public int Count => Math.Max(1, Uses.Length);

    /// <summary>Turns by layer, in the order of winding; a single entry of mean turns for a wild winding.</summary>
    public ImmutableArray<WindingLayer> Layers { get; }

    /// <summary>Wire to cut for one coil: its wire, the allowance, a tail at each end.</summary>
    public Length CutLength { get; }

    /// <summary>By how much the bare diameter may differ, either way.</summary>
    public Length DiameterTolerance { get; }

    /// <summary>Where that tolerance comes from.</summary>
    public string ToleranceSource { get; }

    /// <summary>Resistance to measure at 20 °C, without the tails.</summary>
    public Acceptance<ElectricResistance> Resistance { get; }

    /// <summary>Mass of wire to weigh, without the tails and the former.</summary>
    public Acceptance<Mass> Mass { get; }

    /// <summary>
    /// Inductance to measure away from iron: the coil's, and what round wires add to it. Its range takes it as growing with the square of the turn's size, the most that could be.
    /// </summary>
    public Acceptance<ElectricInductance> Inductance { get; }

    /// <summary>The sheet of one coil.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="options">Allowances and tolerances; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The coil is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The given tolerance of the diameter is half the wire's or more.</exception>
    public static WindingSheet Of(Coil coil, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(coil);
        return new WindingSheet(coil, options ?? WorkshopOptions.Default, []);
    }

    /// <summary>The sheets of a sled, one for each kind of coil.</summary>
    /// <param name="sled">The sled.</param>
    /// <param name="options">Allowances and tolerances; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The sled is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The given tolerance of the diameter is half the wire's or more.</exception>
    public static ImmutableArray<WindingSheet> Of(Sled sled, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(sled);
        return
        [
            .. sled.Coils.Select((mount, number) => (mount, number)).GroupBy(each => each.mount.Coil).Select(same => new WindingSheet(
                same.Key,
                options ?? WorkshopOptions.Default,
                [.. same.Select(each => string.Create(
                    CultureInfo.InvariantCulture,
                    $"coil {each.number + 1}: middle {Show.Number(each.mount.Offset.Millimeters)} mm ahead of the sled's mark, circuit {each.mount.Circuit + 1}, {(each.mount.Sense == WindingSense.Plain ? "start of winding at the upper brush" : "crossed: end of winding at the upper brush")}"))])),
        ];
    }

    /// <summary>The resistance to expect at the temperature of the bench.</summary>
    /// <param name="temperature">−100 °C to the conductor's melting point.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public ElectricResistance ResistanceAt(Temperature temperature) => Coil.ResistanceAt(temperature);

    /// <summary>The sheet in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        Wire wire = Coil.Wire;
        bool wild = Coil.Style.IsWild;
        string axis = Coil.Axis == TrackAxis.Across ? "the +y side (across the gap)" : "the front (the side of travel)";
        var facts = new List<(string, string)>
        {
            ("coils to wind", Count.ToString(CultureInfo.InvariantCulture)),
            ("wire", $"{wire.Conductor.Name}, {wire.Gauge.Name}{(wire.Gauge.Name.StartsWith("AWG", StringComparison.Ordinal) ? $" = {Show.Quantity(wire.BareDiameter)}" : string.Empty)} bare, {GradeWords(wire.Enamel)}, {Show.Quantity(wire.OverallDiameter)} overall at most"),
            ("former", $"core {Show.Quantity(Coil.Former.Width)} × {Show.Quantity(Coil.Former.Height)}, corners {Show.Quantity(Coil.Former.Corner)}, {Show.Quantity(Coil.Former.Length)} between the flanges{(Coil.Former.Depth is Length depth ? $", {Show.Quantity(depth)} deep" : string.Empty)}"),
            ("turns", wild ? $"{Coil.Turns}, wild winding{(Coil.Style.Pattern == WindingPattern.Wild ? $" of fill {Show.Number(Coil.Style.Fill)}" : " to the edge of the flanges")}" : string.Create(CultureInfo.InvariantCulture, $"{Coil.Turns}, {Coil.Style.Pattern.ToString().ToLowerInvariant()}, {Coil.Layers} layers")),
            ("build of the winding", Show.Quantity(Coil.Build)),
            ("outside", $"{Show.Quantity(Coil.OuterWidth)} × {Show.Quantity(Coil.OuterHeight)} × {Show.Quantity(Coil.Former.Length)}"),
            ("sense of winding", $"counterclockwise seen from {axis}, from the inside out; mark the start (inner end)"),
            ("wire to cut, each coil", $"{Show.Quantity(CutLength)} ({Show.Quantity(Coil.WireLength)} + {WorkshopOptions.Percent(options.WireAllowance)} + two tails of {Show.Quantity(options.WireTail)})"),
        };
        var accept = new List<(string, string)>
        {
            ("resistance at 20 °C, without tails", Resistance.ToString()),
            ("at the bench", string.Join(", ", BenchCelsius.Select(celsius => $"{Show.Quantity(ResistanceAt(Temperature.FromDegreesCelsius(celsius)))} at {Show.Number(celsius)} °C"))),
            ("mass of wire, without tails", Mass.ToString()),
            ("inductance, away from iron", Inductance.ToString()),
        };
        Length tenth = Length.FromMillimeters(100);
        string[] notes =
        [
            $"Each {Show.Quantity(tenth)} of tail adds {Show.Quantity(wire.ResistanceOf(tenth))} and {Show.Quantity(wire.MassOf(tenth))}.",
            $"Ranges: wire ± {Show.Quantity(DiameterTolerance)} ({ToleranceSource}), mean turn ± {WorkshopOptions.Percent(options.TurnTolerance)} (as given or by default).",
            "Resistance too low: turns missing or shorted. Too high: too many turns, stretched wire, a bad joint. Right resistance and an inductance far too low: a shorted turn.",
            wild ? "A wild winding has no layers: count the turns." : "Layers run to and fro between the flanges; each begins where the last one ended.",
        ];
        var blocks = new List<SheetBlock> { new SheetFacts(facts) };
        if (Uses.Length > 0)
        {
            blocks.Add(new SheetNotes(Uses));
        }

        blocks.Add(new SheetTable(
            wild ? "turns" : "turns by layer",
            ["layer", "turns", "so far", "one turn", "runs"],
            [.. Layers.Select(layer => (string[])
            [
                wild ? "all" : layer.Number.ToString(CultureInfo.InvariantCulture),
                layer.Turns.ToString(CultureInfo.InvariantCulture),
                layer.TurnsSoFar.ToString(CultureInfo.InvariantCulture),
                Show.Quantity(layer.TurnLength),
                wild ? "anyhow" : layer.TowardFarFlange ? "away" : "back",
            ])]));
        blocks.Add(new SheetFacts(accept, "accept when wound"));
        blocks.Add(new SheetNotes(notes));
        return new SheetSection(Uses.Length == 0 ? "Winding sheet" : $"Winding sheet, {Coil.Turns} turns of {wire.Gauge.Name}", blocks);
    }

    private static string GradeWords(EnamelGrade grade) => grade switch
    {
        EnamelGrade.Bare => "no enamel",
        EnamelGrade.Grade1 => "enamel grade 1",
        EnamelGrade.Grade2 => "enamel grade 2",
        _ => "enamel grade 3",
    };

    private static ImmutableArray<WindingLayer> LayersOf(Coil coil)
    {
        if (coil.Style.IsWild)
        {
            return [new WindingLayer(1, coil.Turns, coil.Turns, coil.MeanTurnLength, true)];
        }

        var layers = ImmutableArray.CreateBuilder<WindingLayer>();
        int soFar = 0;
        foreach (IGrouping<int, TurnPosition> layer in coil.TurnPositions().GroupBy(turn => turn.Layer))
        {
            int turns = layer.Count();
            soFar += turns;
            layers.Add(new WindingLayer(layer.Key, turns, soFar, coil.Former.TurnLengthAt(layer.First().Depth), layer.Key % 2 == 1));
        }

        return layers.ToImmutable();
    }
}
