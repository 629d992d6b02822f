using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>One conductor of the wiring list, or several alike.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Count">How many are alike.</param>
/// <param name="Peak">The greatest current of a launch.</param>
/// <param name="Rms">Root mean square of the current over a launch, or an upper bound of it.</param>
/// <param name="Described">Copper section that the launcher states; null where it states none.</param>
/// <param name="Proposed">The least standard section that serves; null where none up to 25 mm² does.</param>
/// <param name="Warming">Rise of temperature in one launch, no heat lost, of the described section, or else of the proposed one.</param>
/// <param name="MeltsAfter">How long its root mean square current would have to flow to melt it, no heat lost.</param>
/// <param name="Protection">What protects that section from a short, or that nothing does.</param>
public sealed record WiringConductor(
    string From,
    string To,
    int Count,
    ElectricCurrent Peak,
    ElectricCurrent Rms,
    Area? Described,
    Area? Proposed,
    TemperatureDelta Warming,
    Duration MeltsAfter,
    string Protection)
{
    /// <summary>Whether the launcher states a section that is thinner than the proposed one.</summary>
    public bool IsThin => Described is Area described && (Proposed is not Area needed || described.SquareMeters < needed.SquareMeters * (1 - 1e-9));

    /// <summary>The section to wire with: the described one, or else the proposed one; null where there is neither.</summary>
    public Area? Section => Described ?? Proposed;

    /// <summary>The conductor in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{(Count > 1 ? $"{Count} × " : string.Empty)}{From} to {To}: {Show.Quantity(Rms)} rms, {Show.Quantity(Peak)} peak, {WiringList.SectionWords(this)}");
}
