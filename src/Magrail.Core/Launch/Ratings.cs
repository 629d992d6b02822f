using UnitsNet;

namespace Magrail;

/// <summary>What the parts of a launcher bear, where the parts themselves do not say: the yardsticks of <see cref="LimitTable"/>.</summary>
/// <remarks>What is left null has no row in the table.</remarks>
public sealed record Ratings
{
    /// <summary>Nothing stated but the enamel's thermal class, 155 (F).</summary>
    public static Ratings Default { get; } = new();

    /// <summary>Thermal class of the winding's insulation; 155 (F) by default, that of common self-soldering enamel (common practice, no source).</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public ThermalClass Insulation { get; init => field = Require.Present(value, nameof(Insulation)); } = ThermalClass.F;

    /// <summary>Material of the brushes.</summary>
    public ContactMaterial? BrushMaterial { get; init; }

    /// <summary>Material of the strips.</summary>
    public ContactMaterial? StripMaterial { get; init; }

    /// <summary>The greatest current that one brush may carry for the time of a launch, above zero.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public ElectricCurrent? BrushCurrent { get; init => field = Positive(value, nameof(BrushCurrent)); }

    /// <summary>Volume of one brush that arcs may eat before it is replaced, above zero.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public Volume? BrushVolume { get; init => field = Positive(value, nameof(BrushVolume)); }

    /// <summary>Copper section of the braid from the brushes to the coil, above zero.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public Area? Braid { get; init => field = Positive(value, nameof(Braid)); }

    /// <summary>The greatest current that the source may give for the time of a launch, above zero; a bench supply states its own limit.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public ElectricCurrent? SourceCurrent { get; init => field = Positive(value, nameof(SourceCurrent)); }

    /// <summary>The ratings in words.</summary>
    public override string ToString()
    {
        var words = new List<string> { $"insulation {Insulation}" };
        void Add(string name, object? value)
        {
            if (value is not null)
            {
                words.Add($"{name} {(value is IQuantity quantity ? Show.Quantity(quantity) : value)}");
            }
        }

        Add("brushes of", BrushMaterial?.Name);
        Add("strips of", StripMaterial?.Name);
        Add("brush current", BrushCurrent);
        Add("brush volume", BrushVolume);
        Add("braid", Braid);
        Add("source current", SourceCurrent);
        return string.Join(", ", words);
    }

    private static T? Positive<T>(T? value, string name)
        where T : struct, IQuantity
        => value is T given ? Require.Positive(given, "a part that bears nothing serves for nothing", name) : null;
}
