using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>What the sheets for the bench need beyond the launcher: allowances, tolerances, prices, heading.</summary>
public sealed record WorkshopOptions
{
    /// <summary>The defaults of every property.</summary>
    public static WorkshopOptions Default { get; } = new();

    /// <summary>Heading of every sheet; <c>Launcher</c> by default.</summary>
    /// <exception cref="ArgumentException">Set to an empty text.</exception>
    public string Title
    {
        get;
        init
        {
            ArgumentException.ThrowIfNullOrWhiteSpace(value, nameof(Title));
            field = value.Trim();
        }
    } = "Launcher";

    /// <summary>Date to print; none by default.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>
    /// Wire to cut beyond what the coil takes, as a part of its length, 0 to 100 %; 5 % by default (common practice, no source): the helix, crossings from layer
    /// to layer, the first turns that go wrong.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Ratio WireAllowance
    {
        get;
        init => field = Require.InRange(value, Ratio.Zero, Ratio.FromPercent(100), "an allowance is added to the wire of the coil, and twice the wire is a second coil", nameof(WireAllowance));
    } = Ratio.FromPercent(5);

    /// <summary>Free wire at each end of a coil, zero or above; 150 mm by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Length WireTail
    {
        get;
        init => field = Require.NotNegative(value, "a coil is connected by its ends", nameof(WireTail));
    } = Length.FromMillimeters(150);

    /// <summary>
    /// By how much the mean turn may differ from the computed one, either way, as a part of it, 0 to 20 %; 2 % by default (common practice, no source).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Ratio TurnTolerance
    {
        get;
        init => field = Require.InRange(value, Ratio.Zero, Ratio.FromPercent(20), "a winding looser than that is another coil", nameof(TurnTolerance));
    } = Ratio.FromPercent(2);

    /// <summary>
    /// By how much the bare diameter of the wire may differ, either way, above zero and below half of it; null (the default) for that of a maker's table of standard sizes.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public Length? DiameterTolerance
    {
        get;
        init => field = value is Length given ? Require.Positive(given, "no wire is drawn exactly", nameof(DiameterTolerance)) : null;
    }

    /// <summary>What a cut of the saw takes from the strip stock, zero or above; 1 mm by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Length SawCut
    {
        get;
        init => field = Require.NotNegative(value, "a saw takes material away", nameof(SawCut));
    } = Length.FromMillimeters(1);

    /// <summary>By how many kelvins a wire may warm in one launch, above zero to 100; 10 K by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public TemperatureDelta WireWarming
    {
        get;
        init => field = value.Kelvins > 0
            ? Require.InRange(value, TemperatureDelta.Zero, TemperatureDelta.FromKelvins(100), "insulation of PVC bears 70 °C", nameof(WireWarming))
            : throw Require.Fault(nameof(WireWarming), Show.Quantity(value), "above zero to 100 K", "every current warms its wire");
    } = TemperatureDelta.FromKelvins(10);

    /// <summary>Height of the release above the ground, zero or above; 1 m by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Length ReleaseHeight
    {
        get;
        init => field = Require.NotNegative(value, "the ground is at zero", nameof(ReleaseHeight));
    } = Length.FromMeters(1);

    /// <summary>Length added to the clear zone on all sides, zero or above; 5 m by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Length ClearMargin
    {
        get;
        init => field = Require.NotNegative(value, "a margin is added", nameof(ClearMargin));
    } = Length.FromMeters(5);

    /// <summary>Strip width, holes and paper of the template.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public TemplateOptions Template { get; init => field = Require.Present(value, nameof(Template)); } = TemplateOptions.Default;

    /// <summary>Prices by the names of the parts list, for one piece or one meter; none by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public ImmutableDictionary<string, Price> Prices { get; init => field = Require.Present(value, nameof(Prices)); } = ImmutableDictionary<string, Price>.Empty;

    /// <summary>Parts to list that the launcher does not know of, such as screws and wood; none by default.</summary>
    public ImmutableArray<ListedPart> MoreParts { get; init; } = [];

    /// <summary>Title and allowances.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"sheets of {Title}: {Percent(WireAllowance)} and two tails of {Show.Quantity(WireTail)} more wire, turns ± {Percent(TurnTolerance)}";

    internal static string Percent(Ratio ratio) => $"{Show.Number(ratio.Percent)} %";
}
