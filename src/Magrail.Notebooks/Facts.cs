using System.Globalization;
using System.Net;
using Magrail.Units;

namespace Magrail.Notebooks;

/// <summary>A result as a list of names and values: a line each in text, a table on a page.</summary>
internal static class Facts
{
    public static IReadOnlyList<(string Name, string Value)> Of(LaunchResult launch)
    {
        var facts = new List<(string, string)>();
        if (launch.Outcome == LaunchOutcome.Released)
        {
            facts.Add(("exit speed", QuantityText.Of(launch.ExitSpeed)));
            if (launch.Launcher.Payload.NeededSpeed is UnitsNet.Speed needed)
            {
                facts.Add(("speed the payload needs", QuantityText.Of(needed)));
            }

            facts.Add(("time to release", QuantityText.Of(launch.ExitTime)));
        }
        else
        {
            facts.Add(("not released", launch.Cause));
        }

        facts.Add(("greatest acceleration", $"{QuantityText.Of(launch.PeakAcceleration)} ({Number(launch.PeakGs)} g)"));
        facts.Add(("mean acceleration", $"{QuantityText.Of(launch.MeanAcceleration)} ({Number(launch.MeanGs)} g)"));
        facts.Add(("greatest current", $"{QuantityText.Of(launch.PeakCurrent)} at {QuantityText.Of(launch.PeakCurrentPosition)}"));
        facts.Add(("current, root mean square", QuantityText.Of(launch.RmsCurrent)));
        facts.Add(("energy drawn", QuantityText.Of(launch.Ledger.Drawn)));
        facts.Add(("kinetic energy gained", $"{QuantityText.Of(launch.Ledger.Kinetic)} ({Number(100 * launch.Efficiency)} %)"));
        facts.Add(("energy ledger closes to", Show.SmallShare(launch.Ledger.RelativeResidual)));
        return facts;
    }

    public static IReadOnlyList<(string Name, string Value)> Of(Coil coil)
        =>
        [
            ("wire", coil.Wire.ToString()),
            ("turns", string.Create(CultureInfo.InvariantCulture, $"{coil.Turns} in {coil.Layers} layers of {coil.TurnsPerLayer}")),
            ("outside", $"{QuantityText.Of(coil.OuterWidth)} wide, {QuantityText.Of(coil.OuterHeight)} high, {QuantityText.Of(coil.Former.Length)} thick"),
            ("wire length", QuantityText.Of(coil.WireLength)),
            ("mass", QuantityText.Of(coil.Mass)),
            ("resistance at 20 °C", QuantityText.Of(coil.Resistance)),
            ("inductance", QuantityText.Of(coil.Inductance)),
        ];

    public static IReadOnlyList<(string Name, string Value)> Of(EnergyLedger ledger)
        =>
        [
            ("drawn from the source", QuantityText.Of(ledger.Drawn)),
            .. ledger.Entries.Where(entry => entry.Value.Joules != 0).Select(entry => (entry.Name, QuantityText.Of(entry.Value))),
            ("residual", QuantityText.Of(ledger.Residual)),
        ];

    public static IReadOnlyList<(string Name, string Value)> Of(BrakingResult braking)
    {
        var facts = new List<(string, string)>
        {
            ("after the release", braking.Outcome switch
            {
                BrakingOutcome.Stopped => "the sled stops",
                BrakingOutcome.LeftTrack => "the sled LEAVES THE TRACK",
                _ => "the sled does not come to rest in time",
            }),
            ("way", $"{QuantityText.Of(braking.Distance)} of {QuantityText.Of(braking.Room)}"),
        };
        if (braking.Outcome == BrakingOutcome.Stopped)
        {
            facts.Add(("room left", QuantityText.Of(braking.Room - braking.Distance)));
        }
        else
        {
            facts.Add(("speed then", QuantityText.Of(braking.EndSpeed)));
        }

        facts.Add(("time", QuantityText.Of(braking.Duration)));
        facts.Add(("greatest deceleration", $"{QuantityText.Of(braking.PeakDeceleration)} ({Number(braking.PeakDeceleration.StandardGravity)} g)"));
        facts.Add(("energy taken by the brake", QuantityText.Of(braking.Ledger.Brake)));
        return facts;
    }

    public static string Text(IReadOnlyList<(string Name, string Value)> facts)
        => string.Join('\n', facts.Select(fact => $"{fact.Name}: {fact.Value}"));

    public static string Html(IReadOnlyList<(string Name, string Value)> facts)
        => "<table class=\"magrail-facts\"><tbody>"
            + string.Concat(facts.Select(fact => $"<tr><th scope=\"row\">{WebUtility.HtmlEncode(fact.Name)}</th><td>{WebUtility.HtmlEncode(fact.Value)}</td></tr>"))
            + "</tbody></table>";

    private static string Number(double value) => value.ToString("G3", CultureInfo.InvariantCulture);
}
