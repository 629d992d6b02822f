using System.Globalization;
using Magrail.Sources;

namespace Magrail.Laws;

/// <summary>What came of holding a law against a design: how far off, and how far off is allowed.</summary>
/// <param name="Law">The law in words.</param>
/// <param name="Deviation">How far the two sides of the law lie apart, as a part of their size; not a number counts as broken.</param>
/// <param name="Allowed">How far they may lie apart.</param>
/// <param name="Detail">What was compared, in words and numbers.</param>
public readonly record struct LawCheck(
    string Law,
    [property: Dimensionless] double Deviation,
    [property: Dimensionless] double Allowed,
    string Detail)
{
    /// <summary>Whether the law holds.</summary>
    public bool Holds => Deviation <= Allowed;

    /// <summary>The verdict in one line.</summary>
    public string Message => string.Create(
        CultureInfo.InvariantCulture, $"{Law}: {(Holds ? "holds" : "BROKEN")}, deviation {Deviation:G3} of {Allowed:G3} allowed; {Detail}");

    /// <summary>Throws where the law is broken.</summary>
    /// <exception cref="InvalidOperationException">The law is broken; the message tells by how much.</exception>
    public void EnsureHolds()
    {
        if (!Holds)
        {
            throw new InvalidOperationException(Message);
        }
    }

    /// <summary>The verdict in one line.</summary>
    public override string ToString() => Message;
}
