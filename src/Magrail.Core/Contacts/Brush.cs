using UnitsNet;

namespace Magrail;

/// <summary>A sliding contact on the sled: it conducts while any part of its length lies on a strip.</summary>
/// <remarks>
/// Described by one resistance, that holds at any overlap. Described by the parts of its contact resistance, it rises as the brush leaves a strip:
/// R(o) = constriction/√o + (film + body)/o at the overlapping part o of its length, if the force shares evenly; below two percent of the length
/// it is held, for there the last spots melt and the contact parts. A <see cref="Drop"/> comes on top: a voltage that does not depend on the current and opposes it.
/// </remarks>
public sealed record Brush
{
    /// <summary>Describes a brush.</summary>
    /// <param name="length">Its length along the track, above zero.</param>
    /// <param name="resistance">Resistance from strip to lead: constriction, film and the body of the brush; zero or above, 5 mohm by default (common practice, no source).</param>
    /// <param name="force">Force that presses it on the strip, zero or above, 1 N by default (common practice, no source).</param>
    /// <param name="offset">How far its middle lies ahead of the middle of its coil; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Brush(Length length, ElectricResistance? resistance = null, Force? force = null, Length? offset = null)
    {
        Length = Require.Positive(length, "a brush of no length touches nothing");
        Resistance = Require.NotNegative(resistance ?? ElectricResistance.FromMilliohms(5), "a contact dissipates, it does not drive", nameof(resistance));
        Force = Require.NotNegative(force ?? Force.FromNewtons(1), "a spring presses the brush on the strip", nameof(force));
        Offset = Require.Finite(offset ?? Length.Zero, "a brush has a place on the sled", nameof(offset));
    }

    /// <summary>Describes a brush whose resistance follows its overlap with the strip.</summary>
    /// <param name="length">Its length along the track, above zero.</param>
    /// <param name="contact">Its contact resistance at full overlap, in parts.</param>
    /// <param name="force">Force that presses it on the strip, zero or above.</param>
    /// <param name="offset">How far its middle lies ahead of the middle of its coil; zero by default.</param>
    /// <exception cref="ArgumentNullException"><paramref name="contact"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Brush(Length length, ContactResistance contact, Force force, Length? offset = null)
        : this(length, Require.Present(contact, nameof(contact)).Total, force, offset)
        => Contact = contact;

    /// <summary>Length along the track.</summary>
    public Length Length { get; }

    /// <summary>Resistance from strip to lead at full overlap.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>Force that presses the brush on the strip.</summary>
    public Force Force { get; }

    /// <summary>
    /// Voltage against the current that does not depend on its size, as the film under a carbon brush shows it; zero or above, zero by default. Where the source offers the two brushes of
    /// a coil less than both drops, no current flows.
    /// </summary>
    /// <remarks>
    /// Textbooks of machines take 2 V for both brushes of carbon or electrographite together, and metal-graphite at a quarter of that or less (from memory). Metal on metal has
    /// none. It stands beside the resistance: a measured resistance that was taken as volts over amperes at one current already has it in it.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">It is below zero or not finite.</exception>
    public ElectricPotential Drop { get; init => field = Require.NotNegative(value, "a contact dissipates, it does not drive", nameof(Drop)); } = ElectricPotential.Zero;

    /// <summary>How far the brush's middle lies ahead of the middle of its coil.</summary>
    public Length Offset { get; }

    /// <summary>The parts of the contact resistance at full overlap; null where one resistance holds at any overlap.</summary>
    public ContactResistance? Contact { get; }

    /// <summary>The same brush with the resistance of full overlap at any overlap.</summary>
    public Brush AtFullOverlap() => new(Length, Resistance, Force, Offset) { Drop = Drop };

    /// <summary>The same brush without resistance; its drop stays.</summary>
    internal Brush WithoutResistance() => new(Length, ElectricResistance.Zero, Force, Offset) { Drop = Drop };

    /// <summary>The same brush with another resistance at full overlap; its parts keep their shares.</summary>
    internal Brush WithResistance(ElectricResistance resistance)
    {
        if (Contact is not ContactResistance parts || Resistance.Ohms == 0)
        {
            return new(Length, resistance, Force, Offset) { Drop = Drop };
        }

        double factor = resistance.Ohms / Resistance.Ohms;
        return new(Length, new ContactResistance(factor * parts.Constriction, factor * parts.Film, factor * parts.Body), Force, Offset) { Drop = Drop };
    }

    /// <summary>Whether the resistance rises as the overlap with the strip shrinks.</summary>
    internal bool FollowsOverlap => Contact is not null;

    internal BrushSi ToSi() => new(Resistance.Ohms, Contact?.ToSi(), Drop.Volts);

    /// <summary>The brush in words.</summary>
    public override string ToString()
        => $"brush {Show.Quantity(Length)} long, {Show.Quantity(Resistance)}{(Drop.Volts > 0 ? $" and a drop of {Show.Quantity(Drop)}" : "")}, pressed with {Show.Quantity(Force)}";
}

/// <summary>A brush's resistance as the equations see it: fixed, or following the overlap.</summary>
/// <param name="Fixed">At any overlap, ohm; not used where <paramref name="Parts"/> are given.</param>
/// <param name="Parts">At full overlap; null for a fixed resistance.</param>
/// <param name="Drop">Voltage against any current, V.</param>
internal readonly record struct BrushSi(double Fixed, ContactResistanceSi? Parts = null, double Drop = 0)
{
    /// <summary>Resistance at full overlap, ohm.</summary>
    public double Full => Parts is ContactResistanceSi parts ? parts.At(1) : Fixed;

    /// <summary>Resistance with the sled at a place, ohm.</summary>
    public double At(in BrushContact contact, double x) => Parts is ContactResistanceSi parts ? parts.At(contact.OverlapAt(x)) : Fixed;
}
