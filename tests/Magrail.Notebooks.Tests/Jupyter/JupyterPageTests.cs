using System.Collections.Concurrent;
using System.Text.Json;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Opens every notebook in the Jupyter page, runs all its cells there, and looks at what a reader would see.</summary>
[Collection(OneJupyterAtATime.Name)]
public sealed class JupyterPageTests
{
    private static readonly TimeSpan ForOneNotebook = TimeSpan.FromSeconds(150);

    [JupyterFact]
    public async Task Every_notebook_runs_in_the_page_with_every_chart_drawn_and_nothing_fetched_from_outside()
    {
        using Workplace place = await Workplace.MakeAsync();
        await using NotebookServer server = await NotebookServer.StartAsync(place);
        var wrong = new ConcurrentQueue<string>();

        // Two at a time, as a reader may have two open; each waits much of its time. But two kernels that start at once want the same port, and one of them dies.
        using var starts = new SemaphoreSlim(1);
        await Parallel.ForEachAsync(Checkout.Notebooks.Select(path => Path.GetFileName(path)), new ParallelOptions { MaxDegreeOfParallelism = 2 }, async (notebook, _) =>
        {
            try
            {
                await RunAsync(server, notebook, starts);
            }
            catch (Exception failed) when (failed is Xunit.Sdk.XunitException or InvalidOperationException or OperationCanceledException)
            {
                wrong.Enqueue($"{notebook}: {failed.Message}");
            }
        });

        Assert.True(wrong.IsEmpty, $"{string.Join("\n", wrong)}\n{server.Log}");
    }

    private static async Task RunAsync(NotebookServer server, string notebook, SemaphoreSlim starts)
    {
        await using Browser browser = await OpenAsync(server, notebook, starts);
        await browser.ValueAsync("(Jupyter.notebook.execute_all_cells(), true)");

        // A cell is marked as running from when it is handed over until its reply has come; after a failure all that follow are dropped.
        await browser.UntilAsync(
            "!Jupyter.notebook.kernel_busy && !Jupyter.notebook.get_cells().some(cell => cell.element.hasClass('running'))", ForOneNotebook);
        JsonElement cells = await browser.ValueAsync("""
            Jupyter.notebook.get_cells().filter(cell => cell.cell_type === 'code').map(cell => ({
              first: cell.get_text().split('\n')[0],
              ran: Number.isInteger(cell.input_prompt_number),
              errors: cell.output_area.outputs.filter(out => out.output_type === 'error' || out.name === 'stderr').map(out => out.text || out.ename + ': ' + out.evalue),
              charts: cell.output_area.outputs.reduce((sum, out) => sum + ([].concat(out.data && out.data['text/html'] || '').join('').split('<figure class="magrail-chart').length - 1), 0),
            }))
            """);
        Assert.NotEmpty(cells.EnumerateArray());
        foreach (JsonElement cell in cells.EnumerateArray())
        {
            string first = cell.GetProperty("first").GetString()!;
            Assert.True(cell.GetProperty("errors").GetArrayLength() == 0, $"the cell '{first}' failed: {cell.GetProperty("errors")}");
            Assert.True(cell.GetProperty("ran").GetBoolean(), $"the cell '{first}' did not run");
        }

        await browser.UntilAsync("!document.querySelector('.magrail-plot[data-figure]')", TimeSpan.FromSeconds(40));
        await Task.Delay(500);
        int stated = cells.EnumerateArray().Sum(cell => cell.GetProperty("charts").GetInt32());
        Assert.Equal(stated, (await browser.ValueAsync("document.querySelectorAll('.output_area figure.magrail-chart').length")).GetInt32());
        await DrawnPictures.CheckAsync(browser, notebook);
        Assert.All(browser.Requests, address => Assert.True(
            address.StartsWith("data:", StringComparison.Ordinal) || address.StartsWith("blob:", StringComparison.Ordinal) || new Uri(address).IsLoopback,
            $"the page asked for {address}"));
        Assert.Contains(browser.Requests, address => address.StartsWith("ws://127.0.0.1:", StringComparison.Ordinal));

        // The page scrolls inside itself: a window as high as its content shows it all.
        int height = (await browser.ValueAsync("Math.ceil(document.querySelector('#notebook-container').scrollHeight) + 220")).GetInt32();
        await browser.ResizeAsync(1100, Math.Min(height, 16_000));
        await Task.Delay(300);
        string shots = Path.Combine(Checkout.Root, "artifacts");
        Directory.CreateDirectory(shots);
        await browser.ScreenshotAsync(Path.Combine(shots, $"jupyter-{Path.GetFileNameWithoutExtension(notebook)}.png"));

        // A kernel that is done gives its memory to the next one.
        await browser.ValueAsync("(Jupyter.notebook.kernel.kill(), true)");
    }

    private static async Task<Browser> OpenAsync(NotebookServer server, string notebook, SemaphoreSlim starts)
    {
        await starts.WaitAsync();
        try
        {
            return await Browser.OpenAsync(
                server.PageOf(notebook),
                1100,
                900,
                "window.Jupyter && Jupyter.notebook && Jupyter.notebook._fully_loaded && Jupyter.notebook.kernel && Jupyter.notebook.kernel.is_connected() && Jupyter.notebook.kernel.info_reply.status === 'ok'");
        }
        finally
        {
            starts.Release();
        }
    }
}
