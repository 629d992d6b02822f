using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The rule by which <see cref="ContactCommutator.For"/> lays strips out, so that they can be laid anew for another track.</summary>
/// <param name="Dwell">Part of the pitch over which the brush touches its strip.</param>
/// <param name="Lead">How much earlier than symmetric every strip begins and ends.</param>
public sealed record StripLayout([property: Dimensionless] double Dwell, Length Lead)
{
    /// <summary>The rule in words.</summary>
    public override string ToString() => $"dwell {Show.Number(Dwell)}, lead {Show.Quantity(Lead)}";
}
