using System.Globalization;
using Magrail.Sources;
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

    private Coil(Wire wire, CoilFormer former, WindingStyle style, int turns, Length leads, TrackAxis axis, Layout layout)
    {
        Wire = wire;
        Former = former;
        Style = style;
        Turns = turns;
        Leads = leads;
        Axis = axis;
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

    /// <summary>
    /// Direction of the coil's axis in the track's frame: Across the gap (a flat coil between two magnets; the former's width lies along the
    /// track) or Along the track (a coil around or inside coaxial stations; the former's width lies across). The height is upright.
    /// </summary>
    public TrackAxis Axis { get; }

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

    /// <summary>Size of the winding along the track: outer width for an axis across the gap, window length for an axis along the track.</summary>
    public Length ExtentAlong => Axis == TrackAxis.Across ? OuterWidth : Former.Length;

    /// <summary>Size of the winding across the gap: window length for an axis across the gap, outer width for an axis along the track.</summary>
    public Length ExtentAcross => Axis == TrackAxis.Across ? Former.Length : OuterWidth;

    /// <summary>Size of the winding upward: the outer height.</summary>
    public Length ExtentUp => OuterHeight;

    /// <summary>Conductor section over winding section (window length by build).</summary>
    [Dimensionless]
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
    /// ΔL ≈ (μ₀/2π) l (ln(D/d) + 0.1381), l the wire length, D² the section that a turn takes up, d the bare diameter (E. B. Rosa's insulation
    /// correction without its small second term, from memory). Usually below 1 % of L from 100 turns on.
    /// </summary>
    /// <remarks>
    /// It is left out of <see cref="Inductance"/>, which then scales with N² at a given section. With it, a round coil of layered turns meets the sum over
    /// all pairs of turns to a part in a thousand, an orthocyclic one to two (four in a coil of two layers).
    /// </remarks>
    public ElectricInductance WireInductanceShare
    {
        get
        {
            double cell = Style.IsWild ? Former.Length.Meters * Build.Meters / Turns : Wire.OverallDiameter.Meters * LayerPitch;
            double length = Turns * MeanTurnLength.Meters;
            double perLength = PhysicalConstants.VacuumPermeability / (2 * Math.PI);
            return ElectricInductance.FromHenries(
                perLength * length * Math.Max(0, Math.Log(Math.Sqrt(cell) / Wire.BareDiameter.Meters) + RosaConstant));
        }
    }

    // ln of (geometric mean distance of a unit square) - ln of (that of a circle of unit diameter): ln(0.447049/0.389400).
    private const double RosaConstant = 0.1381;

    /// <summary>Distance of one layer from the next, meters.</summary>
    internal double LayerPitch { get; }

    /// <summary>Wire section with enamel over winding section.</summary>
    private double WireFill
        => Math.Min(
            WindingStyle.DensestFill,
            Turns * 0.25 * Math.PI * Wire.OverallDiameter.Meters * Wire.OverallDiameter.Meters / (Former.Length.Meters * Build.Meters));

    /// <summary>Heat capacity of the conductor and nothing else, J/K.</summary>
    internal double HeatCapacity
        => ConductorMass.Kilograms * Wire.Conductor.SpecificHeatCapacity.JoulesPerKilogramKelvin;

    /// <summary>Winds a coil.</summary>
    /// <param name="wire">The wire.</param>
    /// <param name="former">The former.</param>
    /// <param name="turns">Number of turns, 1 to 1,000,000, no more than fit.</param>
    /// <param name="style">How the turns lie; layered if left out.</param>
    /// <param name="leads">Length of the two leads together, zero or above; none if left out.</param>
    /// <param name="axis">Direction of the coil's axis, <see cref="TrackAxis.Across"/> or <see cref="TrackAxis.Along"/>.</param>
    /// <returns>The coil.</returns>
    /// <exception cref="ArgumentOutOfRangeException">
    /// The wire is thicker than the window, or the turns do not fit: the message says how many would.
    /// </exception>
    public static Coil Wind(Wire wire, CoilFormer former, int turns, WindingStyle? style = null, Length? leads = null, TrackAxis axis = TrackAxis.Across)
    {
        ArgumentNullException.ThrowIfNull(wire);
        ArgumentNullException.ThrowIfNull(former);
        Require.InRange(turns, 1, GreatestTurnCount, "a coil is counted in turns");
        Length leadLength = leads is null
            ? Length.Zero
            : Require.NotNegative(leads.Value, "leads have a length", nameof(leads));
        if (axis is not (TrackAxis.Across or TrackAxis.Along))
        {
            throw Require.Fault(nameof(axis), axis.ToString(), "Across or Along", "a coil lies flat in the gap or around the path");
        }

        WindingStyle pattern = style ?? WindingStyle.Layered;
        Layout layout = pattern.IsWild ? Layout.Wild(wire, former, turns, pattern) : Layout.InLayers(wire, former, turns, pattern);
        return new Coil(wire, former, pattern, turns, leadLength, axis, layout);
    }

    /// <summary>The most turns that a former takes.</summary>
    /// <param name="wire">The wire.</param>
    /// <param name="former">The former, with a depth.</param>
    /// <param name="style">How the turns lie; layered if left out. To the edge: the densest packing that could be.</param>
    /// <returns>The number of turns, 0 if the wire is thicker than the window.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The former has no depth.</exception>
    public static int MostTurns(Wire wire, CoilFormer former, WindingStyle? style = null)
    {
        ArgumentNullException.ThrowIfNull(wire);
        ArgumentNullException.ThrowIfNull(former);
        return former.Depth is { } depth
            ? Layout.MostTurns(wire, former, style ?? WindingStyle.Layered, depth.Meters)
            : throw Require.Fault(nameof(former), former.ToString(), "a former with a depth", "without one there is no end to the turns");
    }

    /// <summary>
    /// What another wire would give: this coil wound with it in the same room (window length by this coil's build, or the former's depth if
    /// it has one), with as many turns as fit, a wild winding with the same fill.
    /// </summary>
    /// <param name="gauge">Size of the other wire; conductor and enamel stay.</param>
    /// <returns>The other coil.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No such wire is made, or not a single turn of it fits.</exception>
    public Coil WithGauge(WireGauge gauge)
    {
        Wire wire = Wire.Of(Wire.Conductor, gauge, Wire.Enamel);
        WindingStyle fillStyle = Style.Pattern == WindingPattern.WildToTheEdge ? WindingStyle.Wild(WireFill) : Style;
        int turns = Layout.MostTurns(wire, Former, fillStyle, (Former.Depth ?? Build).Meters);
        return turns >= 1
            ? Wind(wire, Former, turns, Style, Leads, Axis)
            : throw Require.Fault(
                nameof(gauge), gauge.ToString(), $"thinner than the window {Show.Quantity(Former.Length)} × {Show.Quantity(Former.Depth ?? Build)}", "not a single turn fits");
    }

    /// <summary>What the next thicker wire of the series would give, see <see cref="WithGauge"/>.</summary>
    /// <returns>The other coil: fewer turns, less resistance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is no thicker wire, or not a single turn of it fits.</exception>
    public Coil WithNextThickerWire() => WithGauge(Wire.Gauge.NextThicker());

    /// <summary>What the next thinner wire of the series would give, see <see cref="WithGauge"/>.</summary>
    /// <returns>The other coil: more turns, more resistance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is no thinner wire.</exception>
    public Coil WithNextThinnerWire() => WithGauge(Wire.Gauge.NextThinner());

    /// <summary>The same coil with another number of turns.</summary>
    /// <param name="turns">Number of turns, no more than fit.</param>
    /// <returns>The other coil.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The turns do not fit: the message says how many would.</exception>
    public Coil WithTurns(int turns) => Wind(Wire, Former, turns, Style, Leads, Axis);

    /// <summary>
    /// The center of every turn, in the order of winding: layers run to and fro between the flanges, starting at the negative end of the axis; the
    /// last layer may be incomplete. This is what a picture of the section draws.
    /// </summary>
    /// <remarks>The turns of a wild winding lie anywhere: they are given here on an even grid that fills the section.</remarks>
    /// <returns>One entry for each turn.</returns>
    public IReadOnlyList<TurnPosition> TurnPositions()
    {
        TurnPosition[] positions = new TurnPosition[Turns];
        if (Style.IsWild)
        {
            double length = Former.Length.Meters;
            double build = Build.Meters;
            int rows = (int)Math.Clamp(Math.Round(Math.Sqrt(Turns * build / length)), 1, Turns);
            int next = 0;
            for (int row = 0; row < rows; row++)
            {
                // Whole turns in each row, as even as they go.
                int count = (int)((long)(row + 1) * Turns / rows) - next;
                for (int k = 0; k < count; k++)
                {
                    double along = ((k + 0.5) / count) - 0.5;
                    positions[next++] = new TurnPosition(row + 1, (row + 0.5) / rows * build, (row % 2 == 0 ? along : -along) * length);
                }
            }

            return positions;
        }

        double first = 0.5 * Wire.OverallDiameter.Meters;
        int placed = 0;
        for (int layer = 0; layer < Layers; layer++)
        {
            int count = layer == Layers - 1 ? TurnsInLastLayer : TurnsInLayer(layer);
            for (int k = 0; k < count; k++)
            {
                positions[placed++] = new TurnPosition(layer + 1, first + (layer * LayerPitch), TurnAxialPosition(layer, k));
            }
        }

        return positions;
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
        if (Style.IsWild)
        {
            double halfLength = 0.5 * Former.Length.Meters;
            return new CoilSi(
                halfWidth, halfHeight, corner, new WindingBlockSi(0, Build.Meters, -halfLength, halfLength, Turns), default) { Axis = Axis };
        }

        // Each turn stands for a cell as wide as the wire and as thick as the layer pitch around its center.
        double diameter = Wire.OverallDiameter.Meters;
        int complete = TurnsInLastLayer == TurnsInLayer(Layers - 1) ? Layers : Layers - 1;
        int turnsComplete = complete == Layers ? Turns : Turns - TurnsInLastLayer;
        double inner = 0.5 * (diameter - LayerPitch);
        double edge = inner + (complete * LayerPitch);
        (double center, double half) = complete == 0 ? (0, 0) : SpreadOf(complete);
        WindingBlockSi full = complete == 0 ? default : new WindingBlockSi(inner, edge, center - half, center + half, turnsComplete);
        if (complete == Layers)
        {
            return new CoilSi(halfWidth, halfHeight, corner, full, default) { Axis = Axis };
        }

        // Layers run to and fro: the first, third, … start at the lower flange.
        double first = TurnAxialPosition(Layers - 1, 0);
        double last = TurnAxialPosition(Layers - 1, TurnsInLastLayer - 1);
        double from = Math.Min(first, last) - (0.5 * diameter);
        double to = Math.Max(first, last) + (0.5 * diameter);
        WindingBlockSi partial = new(edge, edge + LayerPitch, from, to, TurnsInLastLayer);
        return complete == 0
            ? new CoilSi(halfWidth, halfHeight, corner, partial, default) { Axis = Axis }
            : new CoilSi(halfWidth, halfHeight, corner, full, partial) { Axis = Axis };
    }

    /// <summary>
    /// Middle and half length of an even block that spreads along the axis as the complete layers do: n diameters for layers of n turns straight above
    /// each other; for orthocyclic layers, of equal first and second moment.
    /// </summary>
    private (double Center, double Half) SpreadOf(int layers)
    {
        double diameter = Wire.OverallDiameter.Meters;
        if (Style.Pattern != WindingPattern.Orthocyclic)
        {
            return (0, 0.5 * TurnsPerLayer * diameter);
        }

        double turns = 0;
        double first = 0;
        double second = 0;
        for (int layer = 0; layer < layers; layer++)
        {
            double n = TurnsInLayer(layer);
            double shift = 0.5 * (TurnAxialPosition(layer, 0) + TurnAxialPosition(layer, (int)n - 1));
            turns += n;
            first += n * shift;
            second += n * ((n * n * diameter * diameter / 12) + (shift * shift));
        }

        double center = first / turns;
        return (center, Math.Sqrt(3 * ((second / turns) - (center * center))));
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
            if (former.Depth is { } depth)
            {
                int most = MostTurns(wire, former, style, depth.Meters);
                RequireRoom(wire, former, most >= 1);
                if (turns > most)
                {
                    throw DoesNotFit(turns, most, former, style);
                }
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
                int most = MostTurns(wire, former, style, depth.Meters);
                RequireRoom(wire, former, most >= 1);
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

        /// <summary>Turns that fit a window of the former's length and a depth in meters; 0 if the wire is too thick.</summary>
        public static int MostTurns(Wire wire, CoilFormer former, WindingStyle style, double depth)
        {
            double diameter = wire.OverallDiameter.Meters;
            double window = former.Length.Meters;
            int perLayer = Count(window / diameter);
            if (perLayer < 1 || depth * (1 + RoundOff) < diameter)
            {
                return 0;
            }

            if (style.IsWild)
            {
                return Math.Min(GreatestTurnCount, Count(style.Fill * window * depth / (0.25 * Math.PI * diameter * diameter)));
            }

            bool orthocyclic = style.Pattern == WindingPattern.Orthocyclic;
            double pitch = orthocyclic ? 0.5 * Math.Sqrt(3) * diameter : diameter;
            long layers = 1 + Count((depth - diameter) / pitch);
            long odd = layers / 2;
            long turns = ((layers - odd) * perLayer) + (odd * (orthocyclic ? OrthocyclicTurns(diameter, window, perLayer, 1) : perLayer));
            return (int)Math.Min(GreatestTurnCount, turns);
        }

        /// <summary>Turns of an orthocyclic layer: all layers alike if the window has a spare half diameter, else every second has one less.</summary>
        public static int OrthocyclicTurns(double diameter, double window, int perLayer, int layer)
            => layer % 2 == 0 || (perLayer + 0.5) * diameter <= window * (1 + RoundOff) ? perLayer : perLayer - 1;

        private static int Count(double ratio) => (int)Math.Clamp(Math.Floor((ratio * (1 + RoundOff)) + RoundOff), 0, int.MaxValue);

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
