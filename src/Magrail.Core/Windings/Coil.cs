using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A wound coil: turns per layer, layers, build, exact wire length, resistance, mass, outer size, inductance.
/// </summary>
/// <remarks>
/// Turns are closed rings at their layer's depth: the pitch of the helix and the crossings from layer to layer are left out; they
/// lengthen the wire by less than 1 % for wires thinner than a tenth of the turn. Layers are laid from one flange to the other and back,
/// so the last, incomplete layer starts at the flange where the last but one ended. The record is immutable.
/// </remarks>
public sealed record Coil
{
    private const int GreatestTurnCount = 1_000_000;

    // A layer fits if its wires exceed the window by no more than round-off.
    private const double RoundOff = 1e-9;

    private Coil(Wire wire, CoilFormer former, WindingStyle style, int turns, Length leads, Layout layout)
    {
        Wire = wire;
        Former = former;
        Style = style;
        Turns = turns;
        Leads = leads;
        TurnsPerLayer = layout.TurnsPerLayer;
        Layers = layout.Layers;
        TurnsInLastLayer = layout.TurnsInLastLayer;
        Build = Length.FromMeters(layout.Build);
        WireLength = Length.FromMeters(layout.TurnsLength + leads.Meters);
        MeanTurnLength = Length.FromMeters(layout.TurnsLength / turns);
        LayerPitch = layout.LayerPitch;
    }

    /// <summary>The wire.</summary>
    public Wire Wire { get; }

    /// <summary>The former.</summary>
    public CoilFormer Former { get; }

    /// <summary>How the turns lie.</summary>
    public WindingStyle Style { get; }

    /// <summary>Number of turns N.</summary>
    public int Turns { get; }

    /// <summary>
    /// Turns in a complete layer, flange to flange. In an orthocyclic winding without a spare half diameter, every second layer has
    /// one less. For wild winding, the turns that one layer would have if they lay in layers.
    /// </summary>
    public int TurnsPerLayer { get; }

    /// <summary>Layers begun, the last one perhaps incomplete. For wild winding, the build in layers of square stacking, rounded up.</summary>
    public int Layers { get; }

    /// <summary>Turns in the last layer. For wild winding, <see cref="TurnsPerLayer"/>.</summary>
    public int TurnsInLastLayer { get; }

    /// <summary>Build: thickness of the winding, core to outside.</summary>
    public Length Build { get; }

    /// <summary>Length of the two leads together, part of <see cref="WireLength"/>.</summary>
    public Length Leads { get; }

    /// <summary>Length of the wire, leads included.</summary>
    public Length WireLength { get; }

    /// <summary>Mean length of a turn, leads left out.</summary>
    public Length MeanTurnLength { get; }

    /// <summary>Resistance at 20 °C, leads included.</summary>
    public ElectricResistance Resistance => Wire.ResistanceOf(WireLength);

    /// <summary>Mass of the wire, enamel and leads included; the former is left out.</summary>
    public Mass Mass => Wire.MassOf(WireLength);

    /// <summary>Mass of the conductor alone, leads included.</summary>
    public Mass ConductorMass => Wire.ConductorMassOf(WireLength);

    /// <summary>Outer width of the winding, former width + 2 build.</summary>
    public Length OuterWidth => Former.Width + (2 * Build);

    /// <summary>Outer height of the winding, former height + 2 build.</summary>
    public Length OuterHeight => Former.Height + (2 * Build);

    /// <summary>Conductor section over winding section (window length by build).</summary>
    [Sources.Dimensionless]
    public double FillFactor => Turns * Wire.ConductorSection.SquareMeters / (Former.Length.Meters * Build.Meters);

    /// <summary>
    /// Self-inductance L, the current spread evenly over the winding section. Computed at first use; coils of one geometry share the
    /// result, whatever their turns.
    /// </summary>
    /// <remarks>
    /// Error of the integral: below 1e-6 of L. What the model leaves out is larger: round wires with enamel between them
    /// carry a further share of order 1/N, see <see cref="WireInductanceShare"/>; iron nearby; skin effect.
    /// </remarks>
    public ElectricInductance Inductance => ElectricInductance.FromHenries(SelfInductance.Of(ToSi()));

    /// <summary>
    /// What a measured inductance has above <see cref="Inductance"/>, because round wires lie apart instead of an even section:
    /// ΔL ≈ (μ₀/2π) l (ln(D/d) + 0.1381), l the wire length, D the spacing of turns, d the bare diameter (E. B. Rosa's insulation
    /// correction without its small second term, from memory). Usually below 1 % of L from 100 turns on.
    /// </summary>
    /// <remarks>It is left out of <see cref="Inductance"/>, which then scales with N² at a given section.</remarks>
    public ElectricInductance WireInductanceShare
    {
        get
        {
            double spacing = Math.Sqrt(Former.Length.Meters * Build.Meters / Turns);
            double length = Turns * MeanTurnLength.Meters;
            double perLength = Sources.PhysicalConstants.VacuumPermeability / (2 * Math.PI);
            return ElectricInductance.FromHenries(
                perLength * length * Math.Max(0, Math.Log(spacing / Wire.BareDiameter.Meters) + RosaConstant));
        }
    }

    // ln of (geometric mean distance of a unit square) - ln of (that of a circle of unit diameter): ln(0.447049/0.389400).
    private const double RosaConstant = 0.1381;

    /// <summary>Distance of one layer from the next, meters.</summary>
    internal double LayerPitch { get; }

    /// <summary>Heat capacity of the conductor and nothing else, J/K.</summary>
    internal double HeatCapacity
        => ConductorMass.Kilograms * Wire.Conductor.SpecificHeatCapacity.JoulesPerKilogramKelvin;

    /// <summary>Winds a coil.</summary>
    /// <param name="wire">The wire.</param>
    /// <param name="former">The former.</param>
    /// <param name="turns">Number of turns, 1 to 1,000,000, no more than fit.</param>
    /// <param name="style">How the turns lie; layered if left out.</param>
    /// <param name="leads">Length of the two leads together, zero or above; none if left out.</param>
    /// <returns>The coil.</returns>
    /// <exception cref="ArgumentOutOfRangeException">
    /// The wire is thicker than the window, or the turns do not fit: the message says how many would.
    /// </exception>
    public static Coil Wind(Wire wire, CoilFormer former, int turns, WindingStyle? style = null, Length? leads = null)
    {
        ArgumentNullException.ThrowIfNull(wire);
        ArgumentNullException.ThrowIfNull(former);
        Require.InRange(turns, 1, GreatestTurnCount, "a coil is counted in turns");
        Length leadLength = leads is null
            ? Length.Zero
            : Require.NotNegative(leads.Value, "leads have a length", nameof(leads));
        WindingStyle pattern = style ?? WindingStyle.Layered;
        Layout layout = pattern.Pattern is WindingPattern.Wild or WindingPattern.WildToTheEdge
            ? Layout.Wild(wire, former, turns, pattern)
            : Layout.InLayers(wire, former, turns, pattern);
        return new Coil(wire, former, pattern, turns, leadLength, layout);
    }

    /// <summary>Resistance at a temperature, leads included.</summary>
    /// <param name="temperature">−100 °C to the conductor's melting point.</param>
    /// <returns>The resistance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public ElectricResistance ResistanceAt(Temperature temperature) => Wire.ResistanceOf(WireLength, temperature);

    /// <summary>Turns, wire, layers, resistance, mass.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => string.Create(
            CultureInfo.InvariantCulture,
            $"{Turns} turns of {Wire} in {Layers} layers of {TurnsPerLayer}: {Show.Quantity(Resistance)}, {Show.Quantity(Mass)}, outside {Show.Quantity(OuterWidth)} × {Show.Quantity(OuterHeight)}");

    /// <summary>The coil as the field kernels see it.</summary>
    internal CoilSi ToSi()
    {
        double halfWidth = 0.5 * Former.Width.Meters;
        double halfHeight = 0.5 * Former.Height.Meters;
        double corner = Former.Corner.Meters;
        if (Style.Pattern is WindingPattern.Wild or WindingPattern.WildToTheEdge)
        {
            double halfLength = 0.5 * Former.Length.Meters;
            return new CoilSi(
                halfWidth, halfHeight, corner, new WindingBlockSi(0, Build.Meters, -halfLength, halfLength, Turns), default);
        }

        // Each turn stands for a cell as wide as the wire and as thick as the layer pitch around its center.
        double diameter = Wire.OverallDiameter.Meters;
        int complete = TurnsInLastLayer == TurnsInLayer(Layers - 1) ? Layers : Layers - 1;
        int turnsComplete = complete == Layers ? Turns : Turns - TurnsInLastLayer;
        double inner = 0.5 * (diameter - LayerPitch);
        double edge = inner + (complete * LayerPitch);
        double half = complete == 0 ? 0 : 0.5 * diameter * turnsComplete / complete;
        WindingBlockSi full = complete == 0 ? default : new WindingBlockSi(inner, edge, -half, half, turnsComplete);
        if (complete == Layers)
        {
            return new CoilSi(halfWidth, halfHeight, corner, full, default);
        }

        // Layers run to and fro: the first, third, … start at the lower flange. TurnCenter tells where the rows of turns lie.
        double first = TurnAxialPosition(Layers - 1, 0);
        double last = TurnAxialPosition(Layers - 1, TurnsInLastLayer - 1);
        double from = Math.Min(first, last) - (0.5 * diameter);
        double to = Math.Max(first, last) + (0.5 * diameter);
        WindingBlockSi partial = new(edge, edge + LayerPitch, from, to, TurnsInLastLayer);
        return complete == 0
            ? new CoilSi(halfWidth, halfHeight, corner, partial, default)
            : new CoilSi(halfWidth, halfHeight, corner, full, partial);
    }

    /// <summary>Turns of a complete layer, counted from 0 at the core.</summary>
    private int TurnsInLayer(int layer)
        => Style.Pattern == WindingPattern.Orthocyclic
            ? Layout.OrthocyclicTurns(Wire.OverallDiameter.Meters, Former.Length.Meters, TurnsPerLayer, layer)
            : TurnsPerLayer;

    /// <summary>Axial position of a turn's center, from the coil's middle: layers run to and fro.</summary>
    private double TurnAxialPosition(int layer, int turn)
    {
        double diameter = Wire.OverallDiameter.Meters;
        int inLayer = TurnsInLayer(layer);
        bool upward = layer % 2 == 0;
        double shift = 0;
        if (Style.Pattern == WindingPattern.Orthocyclic && inLayer == TurnsPerLayer && TurnsInLayer(1) == TurnsPerLayer)
        {
            // Equal layers, each moved by half a diameter against the next.
            shift = (upward ? -0.25 : 0.25) * diameter;
        }

        double along = (turn - (0.5 * (inLayer - 1))) * diameter;
        return shift + (upward ? along : -along);
    }

    /// <summary>The arithmetic of winding.</summary>
    private readonly record struct Layout(
        int TurnsPerLayer, int Layers, int TurnsInLastLayer, double Build, double LayerPitch, double TurnsLength)
    {
        public static Layout InLayers(Wire wire, CoilFormer former, int turns, WindingStyle style)
        {
            double diameter = wire.OverallDiameter.Meters;
            double window = former.Length.Meters;
            int perLayer = Count(window / diameter);
            RequireRoom(wire, former, perLayer >= 1);
            bool orthocyclic = style.Pattern == WindingPattern.Orthocyclic;
            double pitch = orthocyclic ? 0.5 * Math.Sqrt(3) * diameter : diameter;
            int most = int.MaxValue;
            if (former.Depth is { } depth)
            {
                int layersThatFit = depth.Meters * (1 + RoundOff) < diameter ? 0 : 1 + Count((depth.Meters - diameter) / pitch);
                RequireRoom(wire, former, layersThatFit >= 1);
                long room = 0;
                for (int layer = 0; layer < layersThatFit && room < turns; layer++)
                {
                    room += TurnsIn(layer);
                }

                most = (int)Math.Min(room, int.MaxValue);
            }

            if (turns > most)
            {
                throw DoesNotFit(turns, most, former, style);
            }

            int left = turns;
            int layers = 0;
            int inLast = 0;
            double length = 0;
            while (left > 0)
            {
                int room = TurnsIn(layers);
                if (room == 0)
                {
                    // A window one wire wide: the orthocyclic layer of n - 1 turns would be empty.
                    throw Require.Fault(
                        nameof(style),
                        style.ToString(),
                        "layered",
                        "the window is one wire wide and has no room for turns in grooves");
                }

                inLast = Math.Min(left, room);
                length += inLast * former.TurnLengthAt((0.5 * diameter) + (layers * pitch));
                left -= inLast;
                layers++;
            }

            return new Layout(perLayer, layers, inLast, diameter + ((layers - 1) * pitch), pitch, length);

            int TurnsIn(int layer) => orthocyclic ? OrthocyclicTurns(diameter, window, perLayer, layer) : perLayer;
        }

        public static Layout Wild(Wire wire, CoilFormer former, int turns, WindingStyle style)
        {
            double diameter = wire.OverallDiameter.Meters;
            double window = former.Length.Meters;
            int perLayer = Count(window / diameter);
            RequireRoom(wire, former, perLayer >= 1);
            double wireSection = 0.25 * Math.PI * diameter * diameter;
            double build;
            if (style.Pattern == WindingPattern.WildToTheEdge)
            {
                build = former.Depth?.Meters
                    ?? throw Require.Fault("former", former.ToString(), "a former with a depth", "the winding is to end at the flange edge");
            }
            else
            {
                build = turns * wireSection / (style.Fill * window);
            }

            if (former.Depth is { } depth)
            {
                RequireRoom(wire, former, depth.Meters * (1 + RoundOff) >= diameter);
                int most = Count(style.Fill * window * depth.Meters / wireSection);
                if (turns > most)
                {
                    throw DoesNotFit(turns, most, former, style);
                }
            }

            build = Math.Max(build, diameter);
            return new Layout(
                perLayer,
                (int)Math.Ceiling((build / diameter) - RoundOff),
                perLayer,
                build,
                diameter,
                turns * former.TurnLengthAt(0.5 * build));
        }

        /// <summary>Turns of an orthocyclic layer: all layers alike if the window has a spare half diameter, else every second has one less.</summary>
        public static int OrthocyclicTurns(double diameter, double window, int perLayer, int layer)
            => layer % 2 == 0 || (perLayer + 0.5) * diameter <= window * (1 + RoundOff) ? perLayer : perLayer - 1;

        private static int Count(double ratio) => (int)Math.Min(int.MaxValue, Math.Floor(ratio * (1 + RoundOff)));

        private static void RequireRoom(Wire wire, CoilFormer former, bool fits)
        {
            if (!fits)
            {
                throw Require.Fault(
                    nameof(wire),
                    $"{wire}, {Show.Quantity(wire.OverallDiameter)} overall",
                    $"thinner than the winding window ({former})",
                    "not a single turn fits");
            }
        }

        private static ArgumentOutOfRangeException DoesNotFit(int turns, int most, CoilFormer former, WindingStyle style)
            => Require.Fault(
                nameof(turns),
                turns.ToString(CultureInfo.InvariantCulture),
                string.Create(CultureInfo.InvariantCulture, $"1 to {most}"),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{most} turns would fit the window {Show.Quantity(former.Length)} × {Show.Quantity(former.Depth!.Value)} ({style})"));
    }
}
