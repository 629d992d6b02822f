namespace Magrail.Charts;

/// <summary>
/// The colors and dash patterns of lines. No two share a dash pattern, and their lightness differs, so that they are told
/// apart on grey paper and by people who see few colors.
/// </summary>
public enum ChartTone
{
    /// <summary>Dark blue, unbroken.</summary>
    Ink,

    /// <summary>Rust, long dashes.</summary>
    Rust,

    /// <summary>Ochre, dots.</summary>
    Ochre,

    /// <summary>Plum, dash and dot.</summary>
    Plum,

    /// <summary>Teal, short dashes.</summary>
    Teal,

    /// <summary>Grey, long dash and dot.</summary>
    Slate,
}
