using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>One layer of a winding sheet.</summary>
/// <param name="Number">Its number, 1 at the core.</param>
/// <param name="Turns">Turns in it.</param>
/// <param name="TurnsSoFar">Turns wound when it is done.</param>
/// <param name="TurnLength">Length of one of its turns, along the middle of the wire.</param>
/// <param name="TowardFarFlange">Whether it runs from the flange where the winding begins to the other one, or back.</param>
public sealed record WindingLayer(int Number, int Turns, int TurnsSoFar, Length TurnLength, bool TowardFarFlange)
{
    /// <summary>The layer in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"layer {Number}: {Turns} turns of {Show.Quantity(TurnLength)} {(TowardFarFlange ? "away" : "back")}, {TurnsSoFar} so far");
}
