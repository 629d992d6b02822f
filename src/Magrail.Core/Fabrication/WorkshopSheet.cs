using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using UnitsNet;

namespace Magrail;

/// <summary>
/// Everything that one takes to the bench for a launcher: winding sheets, strip cut list, template, magnet map, wiring list with a fuse, parts list, check list.
/// </summary>
/// <remarks>
/// A launcher holds stored energy, high current, hot coils, sparks, magnets that pinch and a moving sled. What is computed here replaces no guard, no fuse, no eye protection and no
/// clear zone; local codes and licensed practice come first.
/// </remarks>
public sealed class WorkshopSheet
{
    private const string Caution =
        "A launcher holds stored energy and drives high currents; its coil gets hot, its contacts spark, its magnets pinch, its sled moves faster than a hand, and what it throws hits. "
        + "Computed figures replace no fuse, no guard, no eye protection and no clear zone. Local codes and licensed practice come first.";

    private WorkshopSheet(LaunchResult launch, WorkshopOptions options)
    {
        Launch = launch;
        Options = options;
        Launcher launcher = launch.Launcher;
        Windings = WindingSheet.Of(launcher.Sled, options);
        Strips = StripCutList.Of(launcher.Contacts, options);
        Magnets = MagnetMap.Of(launcher.Track);
        Template = StripTemplate.Of(launcher, options);
        Wiring = WiringList.Of(launch, options);
        Parts = PartsList.Of(launcher, options, Wiring.Fuse);
        Checks = CheckList.Of(launch, options);
    }

    /// <summary>The launch that the sheets rest on.</summary>
    public LaunchResult Launch { get; }

    /// <summary>Allowances, prices, paper and heading.</summary>
    public WorkshopOptions Options { get; }

    /// <summary>One for each kind of coil.</summary>
    public ImmutableArray<WindingSheet> Windings { get; }

    /// <summary>The contact strips.</summary>
    public StripCutList Strips { get; }

    /// <summary>Which way round the magnets stand.</summary>
    public MagnetMap Magnets { get; }

    /// <summary>The drilling and strip template, full scale.</summary>
    public StripTemplate Template { get; }

    /// <summary>Conductors and fuse.</summary>
    public WiringList Wiring { get; }

    /// <summary>What to buy and make.</summary>
    public PartsList Parts { get; }

    /// <summary>What to check before power.</summary>
    public CheckList Checks { get; }

    /// <summary>Launches a launcher and makes its sheets.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="options">Allowances, prices, paper and heading; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    /// <exception cref="ArgumentException">A price is given for a part that is not on the list.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The track takes more than 400 sheets of A4, or a tolerance is as large as the wire.</exception>
    public static WorkshopSheet Of(Launcher launcher, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        return Of(launcher.Launch(), options);
    }

    /// <summary>Makes the sheets of a launch.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="options">Allowances, prices, paper and heading; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launch is null.</exception>
    /// <exception cref="ArgumentException">A price is given for a part that is not on the list.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The track takes more than 400 sheets of A4, or a tolerance is as large as the wire.</exception>
    public static WorkshopSheet Of(LaunchResult launch, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return new WorkshopSheet(launch, options ?? WorkshopOptions.Default);
    }

    /// <summary>All sheets as one page that needs nothing else and prints on A4 in black and white, the template at full scale where it is printed at 100 %.</summary>
    public string ToHtml()
    {
        string cover = $"<section class=\"sheet\"><h1>{WebUtility.HtmlEncode(Heading)}</h1><p class=\"caution\">{WebUtility.HtmlEncode(Caution)}</p>{new SheetFacts([.. CoverFacts()]).ToHtml()}{new SheetNotes(["Print all of it at 100 % (actual size). The last sheets are the template."]).ToHtml()}{Checks.ToSection().ToHtml()}</section>";
        return SheetPage.Of(
            Heading,
            Template.Options,
            [
                cover,
                .. Sections().Skip(1).SkipLast(2).Select(section => $"<section class=\"sheet\">{section.ToHtml()}</section>"),

                // Two short ones share a page.
                $"<section class=\"sheet\">{string.Concat(Sections().TakeLast(2).Select(section => section.ToHtml()))}</section>",
                .. Template.Tiles.Select(Template.HtmlOf),
            ]);
    }

    /// <summary>Writes that page, whole or not at all.</summary>
    /// <param name="path">The file; replaced where it exists.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveHtml(string path) => WholeFile.WriteText(path, ToHtml());

    /// <summary>
    /// Writes everything to a folder: <c>workshop-sheet.html</c> with all sheets, <c>template.html</c> with the template alone, <c>template.svg</c> in one piece, an SVG for each sheet of
    /// A4, and <c>magnet-map.svg</c>.
    /// </summary>
    /// <param name="folder">The folder; made where it does not exist. Files of these names are replaced.</param>
    /// <returns>The files that were written, the page with all sheets first.</returns>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">A file cannot be written.</exception>
    public IReadOnlyList<string> Save(string folder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(folder);
        Directory.CreateDirectory(folder);
        string all = Path.Combine(folder, "workshop-sheet.html");
        string pages = Path.Combine(folder, "template.html");
        string whole = Path.Combine(folder, "template.svg");
        SaveHtml(all);
        Template.SaveHtml(pages);
        Template.SaveSvg(whole);
        return [all, pages, whole, .. Template.SaveTiles(folder), .. Magnets.SaveSvg(Path.Combine(folder, "magnet-map.svg"))];
    }

    /// <summary>All sheets in text.</summary>
    /// <returns>Many lines.</returns>
    public override string ToString()
        => string.Join(
            Environment.NewLine + Environment.NewLine,
            Sections().Select(section => section.ToText()).Prepend(new SheetFacts([.. CoverFacts()]).ToText()).Prepend(Caution).Prepend(Heading));

    internal string Heading => Options.Date is DateOnly date ? string.Create(CultureInfo.InvariantCulture, $"{Options.Title}: workshop sheet, {date:yyyy-MM-dd}") : $"{Options.Title}: workshop sheet";

    internal IEnumerable<(string Name, string Value)> CoverFacts()
    {
        if (Checks.Refusal is string refusal)
        {
            yield return ("NOT TO BE LAUNCHED", refusal);
        }

        yield return ("track", Launch.Launcher.Track.ToString());
        yield return ("sled", Launch.Launcher.Sled.ToString());
        if (CheckList.SlopeWords(Launch.Launcher) is string slope)
        {
            yield return ("slope", slope);
        }

        if (LimitTable.WideCoil(Launch.Launcher) is string wide)
        {
            yield return ("coil", wide);
        }

        yield return ("source", Launch.Launcher.Source.ToString()!);
        yield return Launch.Outcome == LaunchOutcome.Released
            ? ("computed", $"exit speed {Show.Quantity(Launch.EndSpeed)} after {Show.Quantity(Launch.EndTime)}, up to {Show.Quantity(Launch.PeakSourceCurrent)} from the source")
            : ("computed", $"NOT RELEASED: {Launch.Cause}");
        yield return ("limits", Launch.Limits.Holds ? Launch.Outcome == LaunchOutcome.Released ? "every limit that is stated holds" : "say nothing: the launch is not released" : $"BROKEN: {string.Join(", ", Launch.Limits.Limits.Where(limit => limit.IsBroken).Select(limit => limit.Name))}");
    }

    private IEnumerable<SheetSection> Sections()
        =>
        [
            Checks.ToSection(),
            .. Windings.Select(winding => winding.ToSection()),
            Strips.ToSection(),
            Magnets.ToSection(),
            Wiring.ToSection(),
            Parts.ToSection(),
            Template.ToSection(),
        ];
}
