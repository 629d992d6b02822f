using System.Globalization;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests;

/// <summary>
/// The colors of lines and bars on grey paper and as people without red or green cones see them: simulated with the matrices of
/// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and
/// Computer Graphics 15 (2009) 1291-1298, severity 1.0, for linear RGB (numbers from memory, alike in several public copies; each row must sum to one, which is tested). Lightness: CIE L* of the luminance of
/// IEC 61966-2-1. Contrast: WCAG 2.1, success criterion 1.4.11 (3:1 for graphical objects).
/// </summary>
public sealed class PaletteTests
{
    private static readonly double[][] Protanopia = [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]];
    private static readonly double[][] Deuteranopia = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]];
    private static readonly double[][] Full = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];

    public static TheoryData<string> Eyes => ["full", "protanopia", "deuteranopia"];

    /// <summary>White stays white: the matrices are of the right kind.</summary>
    [Fact]
    public void Grey_stays_grey_in_the_simulation()
    {
        foreach (double[] row in Protanopia.Concat(Deuteranopia))
        {
            Assert.Equal(1, row.Sum(), 1e-5);
        }
    }

    /// <summary>Lines, dashed or not, stand out from white paper for every eye; the palest of them, ochre, which is dotted, by 2:1, all others by 3:1.</summary>
    [Theory]
    [MemberData(nameof(Eyes))]
    public void Every_line_stands_out_from_the_paper(string eye)
    {
        foreach (ChartTone tone in Enum.GetValues<ChartTone>())
        {
            double contrast = 1.05 / (Luminance(Seen(Palette.Color(tone), eye)) + 0.05);
            Assert.True(contrast >= (tone == ChartTone.Ochre ? 2 : 3), $"{tone} has a contrast of {contrast:F2} for {eye}.");
        }
    }

    /// <summary>Any two lines differ in their dashes and in their marks, whatever is seen of their colors; the first three tones also by ten steps of lightness.</summary>
    [Theory]
    [MemberData(nameof(Eyes))]
    public void Any_two_lines_can_be_told_apart(string eye)
    {
        ChartTone[] tones = Enum.GetValues<ChartTone>();
        Assert.Equal(tones.Length, tones.Select(Palette.Dash).Distinct().Count());
        Assert.Equal(tones.Length, tones.Select(Palette.Symbol).Distinct().Count());
        double[] lightness = [.. tones.Take(3).Select(tone => Lightness(Seen(Palette.Color(tone), eye))).Order()];
        Assert.True(lightness[1] - lightness[0] > 10 && lightness[2] - lightness[1] > 10, string.Join(", ", lightness));
    }

    /// <summary>Bars differ in hatching or in fifteen steps of lightness.</summary>
    [Theory]
    [MemberData(nameof(Eyes))]
    public void Any_two_bars_can_be_told_apart(string eye)
    {
        ChartBarKind[] kinds = Enum.GetValues<ChartBarKind>();
        for (int i = 0; i < kinds.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double apart = Math.Abs(Lightness(Seen(Palette.Color(kinds[i]), eye)) - Lightness(Seen(Palette.Color(kinds[j]), eye)));
                Assert.True(apart > 15 || Palette.Pattern(kinds[i]) != Palette.Pattern(kinds[j]), $"{kinds[i]} and {kinds[j]} are {apart:F1} apart for {eye}.");
            }
        }
    }

    /// <summary>Colors of maps fall in lightness from step to step; those for both signs are told apart at their ends, blue from orange, by every eye.</summary>
    [Theory]
    [MemberData(nameof(Eyes))]
    public void Maps_read_the_same_for_every_eye(string eye)
    {
        double[] steps = [.. Palette.Sequential.Select(color => Lightness(Seen(color, eye)))];
        for (int i = 1; i < steps.Length; i++)
        {
            Assert.True(steps[i - 1] - steps[i] > 3, $"step {i}: {steps[i - 1]:F1} to {steps[i]:F1} for {eye}");
        }

        for (int i = 0; i < 3; i++)
        {
            double[] one = Seen(Palette.Diverging[i], eye);
            double[] other = Seen(Palette.Diverging[^(i + 1)], eye);
            Assert.True(other[2] - one[2] > 0.05, $"{i}: the blue of the one end is {one[2]:F2}, of the other {other[2]:F2}, for {eye}");
            Assert.True(one[0] > one[2] && other[2] > other[0], $"{i}: an end has lost its hue for {eye}");
        }
    }

    private static double[] Seen(string color, string eye)
    {
        double[] linear = [.. Enumerable.Range(0, 3).Select(channel => 1 + (2 * channel)).Select(at => int.Parse(color.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0).Select(v => v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4))];
        double[][] matrix = eye switch { "protanopia" => Protanopia, "deuteranopia" => Deuteranopia, _ => Full };
        return [.. matrix.Select(row => Math.Clamp(row.Zip(linear, (a, b) => a * b).Sum(), 0, 1))];
    }

    private static double Luminance(double[] linear) => (0.2126 * linear[0]) + (0.7152 * linear[1]) + (0.0722 * linear[2]);

    private static double Lightness(double[] linear)
    {
        double y = Luminance(linear);
        return y > 216.0 / 24389 ? (116 * Math.Cbrt(y)) - 16 : 24389.0 / 27 * y;
    }
}
