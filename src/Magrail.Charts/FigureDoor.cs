using System.Reflection;
using System.Runtime.Loader;

namespace Magrail.Charts;

/// <summary>
/// The door to the assembly that draws. What it needs (Plotly.NET and the F# library it was built with) is carried inside
/// this assembly and loaded in a load context of its own, since a host such as the notebook kernel may already have
/// loaded another version of the F# library. Only strings and arrays pass the door.
/// </summary>
internal static class FigureDoor
{
    private static readonly Lazy<Type> Figure = new(() =>
        new CarriedContext().LoadFromAssemblyName(new AssemblyName("Magrail.Charts.Plotly"))
            .GetType("Magrail.Charts.Plotly.Figure", throwOnError: true)!);

    /// <summary>The source text of plotly.js, and its licence.</summary>
    public static string[] Script() => (string[])Call("Script");

    public static string Lines(
        string horizontalTitle,
        double[] horizontalRange,
        double[][] verticalRanges,
        string[] panelTitles,
        bool[] panelsFromZero,
        string[] seriesNames,
        int[] seriesPanels,
        double[][] xs,
        double[][] ys,
        string[] colors,
        string[] dashes,
        string[] symbols,
        bool[] filled,
        double[][] halfWidths,
        string[] levelNames,
        int[] levelPanels,
        double[] levels,
        string[] placeNames,
        double[] places,
        string[] ribbonNames,
        double[] ribbonFrom,
        double[] ribbonTo,
        string[] ribbonColors)
        => (string)Call(
            "Lines",
            horizontalTitle,
            horizontalRange,
            verticalRanges,
            panelTitles,
            panelsFromZero,
            seriesNames,
            seriesPanels,
            xs,
            ys,
            colors,
            dashes,
            symbols,
            filled,
            halfWidths,
            levelNames,
            levelPanels,
            levels,
            placeNames,
            places,
            ribbonNames,
            ribbonFrom,
            ribbonTo,
            ribbonColors);

    public static string Bars(
        string axisTitle, string[] names, double[] from, double[] to, string[] labels, string[] colors, string[] patterns, string[] markNames, double[] marks)
        => (string)Call("Bars", axisTitle, names, from, to, labels, colors, patterns, markNames, marks);

    public static string Map(
        string[] titles,
        string[] units,
        double[] columns,
        double[] rows,
        double[][] values,
        bool signed,
        double[] scale,
        double[] ticks,
        string[] tickWords,
        string[] colors,
        bool toScale,
        OutlineArrays lines)
        => (string)Call(
            "Map",
            titles,
            units,
            columns,
            rows,
            values,
            signed,
            scale,
            ticks,
            tickWords,
            colors,
            toScale,
            lines.Names,
            lines.Xs,
            lines.Ys,
            lines.Colors,
            lines.Widths,
            lines.Dashes,
            lines.Seams,
            lines.Fills);

    public static string Drawing(string[] titles, double[] frame, OutlineArrays lines, string[] placeNames, double[] placeXs, double[] placeYs)
        => (string)Call(
            "Drawing",
            titles,
            frame,
            lines.Names,
            lines.Xs,
            lines.Ys,
            lines.Colors,
            lines.Widths,
            lines.Dashes,
            lines.Seams,
            lines.Fills,
            placeNames,
            placeXs,
            placeYs);

    private static object Call(string method, params object[] arguments)
        => Figure.Value.InvokeMember(
            method,
            BindingFlags.Public | BindingFlags.Static | BindingFlags.InvokeMethod | BindingFlags.DoNotWrapExceptions,
            binder: null,
            target: null,
            arguments,
            System.Globalization.CultureInfo.InvariantCulture)!;

    private sealed class CarriedContext() : AssemblyLoadContext("Magrail charts")
    {
        protected override Assembly? Load(AssemblyName assemblyName)
        {
            // What is not carried here (the framework) comes from the host.
            using Stream? carried = typeof(FigureDoor).Assembly.GetManifestResourceStream($"carried/{assemblyName.Name}.dll");
            return carried is null ? null : LoadFromStream(carried);
        }
    }
}
