using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// Where the energy of a launch came from and went, from the start to the end of the run; integrated along with the motion,
/// so that what does not close shows the error of the integration.
/// </summary>
/// <param name="Drawn">Drawn from the source (its voltage before its resistance, lowered in current limit, times its current), less what it took back.</param>
/// <param name="CoilHeat">Heat in the copper of the coils.</param>
/// <param name="OtherHeat">Heat in source, leads, bus bars, switch and contacts.</param>
/// <param name="Arcs">Burned by arcs at parting contacts.</param>
/// <param name="Suppressed">Taken by what lies across the coils: clamps, resistors, resistors with capacitors and what those still hold.</param>
/// <param name="Breaks">Field energy lost at ideal breaks.</param>
/// <param name="Friction">Work against dry and viscous friction.</param>
/// <param name="Drag">Work against the air.</param>
/// <param name="Brake">Work against the brake behind the release.</param>
/// <param name="Kinetic">Kinetic energy gained by sled and payload.</param>
/// <param name="Magnetic">Field energy still in the coils at the end.</param>
/// <param name="Potential">Potential energy gained on the slope.</param>
public sealed record EnergyLedger(
    Energy Drawn,
    Energy CoilHeat,
    Energy OtherHeat,
    Energy Arcs,
    Energy Suppressed,
    Energy Breaks,
    Energy Friction,
    Energy Drag,
    Energy Brake,
    Energy Kinetic,
    Energy Magnetic,
    Energy Potential)
{
    /// <summary>Drawn less all that it became: zero but for the error of the integration.</summary>
    public Energy Residual => Drawn - Spent;

    /// <summary>The residual as a part of the energy turned over: the greatest of the energy drawn and any entry it became.</summary>
    [Dimensionless]
    public double RelativeResidual
        => RelativeResidualOf(Drawn.Joules, [.. Entries.Select(entry => entry.Value.Joules)]);

    /// <summary>All that the energy became, in the order in which it is printed.</summary>
    public IReadOnlyList<(string Name, Energy Value)> Entries =>
    [
        ("kinetic energy", Kinetic),
        ("coil heat", CoilHeat),
        ("heat in source, leads and contacts", OtherHeat),
        ("arcs", Arcs),
        ("suppressors", Suppressed),
        ("ideal breaks", Breaks),
        ("friction", Friction),
        ("drag", Drag),
        ("brake", Brake),
        ("field left in the coils", Magnetic),
        ("height gained", Potential),
    ];

    private Energy Spent => Kinetic + CoilHeat + OtherHeat + Arcs + Suppressed + Breaks + Friction + Drag + Brake + Magnetic + Potential;

    /// <summary>What a ledger does not close by, as a part of its greatest entry; the entries in the order in which they are printed, so that the sum is the same to the bit.</summary>
    internal static double RelativeResidualOf(double drawn, ReadOnlySpan<double> entries)
    {
        double scale = Math.Abs(drawn);
        double spent = 0;
        foreach (double entry in entries)
        {
            spent += entry;
            scale = Math.Max(scale, Math.Abs(entry));
        }

        return scale == 0 ? 0 : Math.Abs(drawn - spent) / scale;
    }

    /// <summary>The ledger as a table in text.</summary>
    public override string ToString()
    {
        var lines = new List<string> { $"{"drawn from the source",-36}{Show.Quantity(Drawn),12}" };
        foreach ((string name, Energy value) in Entries)
        {
            if (value.Joules != 0)
            {
                lines.Add($"  {name,-34}{Show.Quantity(value),12}");
            }
        }

        lines.Add($"  {"residual",-34}{Show.Quantity(Residual),12}");
        return string.Join(Environment.NewLine, lines);
    }
}
