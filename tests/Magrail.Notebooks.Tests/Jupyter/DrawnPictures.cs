using System.Text.Json;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Looks whether what a page holds of charts and pictures is there to be seen.</summary>
internal static class DrawnPictures
{
    /// <summary>Every chart has shapes of some size inside its frame, and every other picture has some size.</summary>
    public static async Task CheckAsync(Browser browser, string page)
    {
        JsonElement charts = await browser.ValueAsync("""
            [...document.querySelectorAll('.magrail-plot')].map(plot => {
              const frame = plot.getBoundingClientRect();
              const shapes = [...plot.querySelectorAll('.scatterlayer path.js-line, .scatterlayer path.point, .barlayer .point path, .contourlayer .contourlevel path')].filter(path => {
                const box = path.getBoundingClientRect();
                return box.width > 1 && box.height > 1 && box.right > frame.left && box.left < frame.right && box.bottom > frame.top && box.top < frame.bottom; });
              return { name: plot.getAttribute('aria-label') || '', width: frame.width, height: frame.height, shapes: shapes.length };
            })
            """);
        JsonElement others = await browser.ValueAsync("""
            [...document.querySelectorAll('img, svg')].filter(picture => picture.closest('.output_area, .jp-OutputArea') && !picture.closest('.magrail-plot')).map(picture =>
              picture.getBoundingClientRect().width > 10 && (picture.tagName !== 'IMG' || picture.naturalWidth > 0))
            """);
        Assert.True(charts.GetArrayLength() + others.GetArrayLength() > 0, $"{page} has no chart and no picture.");
        foreach (JsonElement chart in charts.EnumerateArray())
        {
            Assert.True(
                chart.GetProperty("shapes").GetInt32() > 0 && chart.GetProperty("width").GetDouble() > 200 && chart.GetProperty("height").GetDouble() > 80,
                $"{page}: a chart is not drawn: {chart}");
        }

        Assert.All(others.EnumerateArray(), seen => Assert.True(seen.GetBoolean(), $"{page}: a picture is not drawn."));
    }
}
