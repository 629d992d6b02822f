using System.Diagnostics;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests;

/// <summary>A test that needs the Chromium browser, and says so where there is none.</summary>
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute()
    {
        if (Browser.Executable is null)
        {
            Skip = "LEFT OUT: no Chromium was found. Install it (on Debian: apt-get install chromium) or name it in MAGRAIL_CHROMIUM.";
        }
    }
}

/// <summary>A headless Chromium, driven by its DevTools protocol, that opens one page and is asked about it.</summary>
internal sealed class Browser : IAsyncDisposable
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome"];

    public static string? Executable { get; } = Find();

    private readonly TemporaryFolder _profile = new();
    private readonly ClientWebSocket _socket = new();
    private readonly List<string> _requests = [];
    private Process? _process;
    private int _last;

    /// <summary>All addresses the page asked for, its own included, and those of its web sockets.</summary>
    public IReadOnlyList<string> Requests => _requests;

    /// <summary>Errors and refusals that the page wrote to its console.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Opens a page from a file.</summary>
    public static Task<Browser> OpenAsync(string path, int width, int height)
        => OpenAsync(new Uri(path), width, height, "document.readyState === 'complete' && !document.querySelector('.magrail-plot[data-figure]')");

    /// <summary>Opens a page and waits until an expression on it is true.</summary>
    public static async Task<Browser> OpenAsync(Uri address, int width, int height, string until)
    {
        var browser = new Browser();
        try
        {
            await browser.StartAsync();
            await browser.AskAsync("Page.enable");
            await browser.AskAsync("Network.enable");
            await browser.AskAsync("Log.enable");
            await browser.AskAsync("Runtime.enable");
            await browser.ResizeAsync(width, height);
            await browser.AskAsync("Page.navigate", new JsonObject { ["url"] = address.AbsoluteUri });
            await browser.UntilAsync(until, TimeSpan.FromSeconds(60));
            await Task.Delay(300);
            return browser;
        }
        catch
        {
            await browser.DisposeAsync();
            throw;
        }
    }

    /// <summary>The value of a JavaScript expression.</summary>
    public async Task<JsonElement> ValueAsync(string expression)
    {
        JsonElement result = await AskAsync("Runtime.evaluate", new JsonObject { ["expression"] = expression, ["returnByValue"] = true, ["awaitPromise"] = true });
        return result.TryGetProperty("exceptionDetails", out JsonElement wrong)
            ? throw new InvalidOperationException(wrong.ToString())
            : result.GetProperty("result").GetProperty("value");
    }

    public Task ResizeAsync(int width, int height) => AskAsync("Emulation.setDeviceMetricsOverride", new JsonObject
    {
        ["width"] = width, ["height"] = height, ["deviceScaleFactor"] = 1, ["mobile"] = width < 600,
    });

    public async Task ScreenshotAsync(string path)
    {
        JsonElement size = (await AskAsync("Page.getLayoutMetrics")).GetProperty("cssContentSize");
        JsonElement shot = await AskAsync("Page.captureScreenshot", new JsonObject
        {
            ["captureBeyondViewport"] = true,
            ["clip"] = new JsonObject
            {
                ["x"] = 0, ["y"] = 0, ["width"] = size.GetProperty("width").GetDouble(), ["height"] = size.GetProperty("height").GetDouble(), ["scale"] = 1,
            },
        });
        await File.WriteAllBytesAsync(path, shot.GetProperty("data").GetBytesFromBase64());
    }

    /// <summary>The page as a printer would get it, at 100 %, on the paper and with the margins that the page itself asks for.</summary>
    public async Task<byte[]> PrintAsync()
        => (await AskAsync("Page.printToPDF", new JsonObject { ["preferCSSPageSize"] = true, ["scale"] = 1 })).GetProperty("data").GetBytesFromBase64();

    /// <summary>Waits until an expression on the page is true.</summary>
    public async Task UntilAsync(string expression, TimeSpan limit)
    {
        var clock = Stopwatch.StartNew();
        while (!(await ValueAsync($"!!({expression})")).GetBoolean())
        {
            Assert.True(clock.Elapsed < limit, $"In {limit.TotalSeconds} s the page never came to: {expression}");
            await Task.Delay(100);
        }
    }

    /// <summary>Presses and lets go a key, as a finger does: what the page has in focus gets it.</summary>
    public async Task PressAsync(string key, int code)
    {
        foreach (string kind in (string[])["rawKeyDown", "keyUp"])
        {
            await AskAsync("Input.dispatchKeyEvent", new JsonObject { ["type"] = kind, ["key"] = key, ["code"] = key, ["windowsVirtualKeyCode"] = code });
        }
    }

    public async ValueTask DisposeAsync()
    {
        _socket.Dispose();
        if (_process is not null)
        {
            if (!_process.HasExited)
            {
                _process.Kill(entireProcessTree: true);
                await _process.WaitForExitAsync();
            }

            _process.Dispose();
        }

        _profile.Dispose();
    }

    private static string? Find()
    {
        IEnumerable<string> named = Environment.GetEnvironmentVariable("MAGRAIL_CHROMIUM") is { Length: > 0 } one ? [one] : [];
        IEnumerable<string> usual = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator)
            .SelectMany(folder => Names.Select(name => Path.Combine(folder, name)));
        return named.Concat(usual).FirstOrDefault(File.Exists);
    }

    private async Task StartAsync()
    {
        _process = Process.Start(new ProcessStartInfo(
            Executable!,
            [
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync", "--hide-scrollbars", "--remote-debugging-port=0", $"--user-data-dir={_profile.Path}", "about:blank",
            ])
        { RedirectStandardError = true, RedirectStandardOutput = true })!;
        _process.ErrorDataReceived += (_, _) => { };
        _process.BeginErrorReadLine();
        _process.BeginOutputReadLine();

        string portFile = _profile.In("DevToolsActivePort");
        var clock = Stopwatch.StartNew();
        string[] lines = [];
        while (lines.Length < 2)
        {
            Assert.True(clock.Elapsed < TimeSpan.FromSeconds(60) && !_process.HasExited, "Chromium did not start.");
            await Task.Delay(50);
            lines = File.Exists(portFile) ? await File.ReadAllLinesAsync(portFile) : [];
        }

        using var http = new HttpClient();
        string pages = await http.GetStringAsync(new Uri($"http://127.0.0.1:{lines[0]}/json/list"));
        using JsonDocument list = JsonDocument.Parse(pages);
        string address = list.RootElement.EnumerateArray()
            .First(page => page.GetProperty("type").GetString() == "page").GetProperty("webSocketDebuggerUrl").GetString()!;
        await _socket.ConnectAsync(new Uri(address), CancellationToken.None);
    }

    private async Task<JsonElement> AskAsync(string method, JsonObject? parameters = null)
    {
        int id = ++_last;
        string question = new JsonObject { ["id"] = id, ["method"] = method, ["params"] = parameters ?? [] }.ToJsonString();
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        await _socket.SendAsync(Encoding.UTF8.GetBytes(question), WebSocketMessageType.Text, endOfMessage: true, limit.Token);
        while (true)
        {
            using JsonDocument message = await ReceiveAsync(limit.Token);
            JsonElement root = message.RootElement;
            if (root.TryGetProperty("id", out JsonElement answered) && answered.GetInt32() == id)
            {
                return root.TryGetProperty("error", out JsonElement error)
                    ? throw new InvalidOperationException($"{method}: {error}")
                    : root.GetProperty("result").Clone();
            }

            switch (root.TryGetProperty("method", out JsonElement happened) ? happened.GetString() : null)
            {
                case "Network.requestWillBeSent":
                    _requests.Add(root.GetProperty("params").GetProperty("request").GetProperty("url").GetString()!);
                    break;
                case "Network.webSocketCreated":
                    _requests.Add(root.GetProperty("params").GetProperty("url").GetString()!);
                    break;
                case "Log.entryAdded" when root.GetProperty("params").GetProperty("entry").GetProperty("level").GetString() == "error":
                    Complaints.Add(root.GetProperty("params").GetProperty("entry").GetProperty("text").GetString()!);
                    break;
                case "Runtime.exceptionThrown":
                    Complaints.Add(root.GetProperty("params").GetProperty("exceptionDetails").ToString());
                    break;
                default:
                    break;
            }
        }
    }

    private async Task<JsonDocument> ReceiveAsync(CancellationToken stop)
    {
        using var whole = new MemoryStream();
        byte[] part = new byte[1 << 16];
        WebSocketReceiveResult got;
        do
        {
            got = await _socket.ReceiveAsync(part, stop);
            whole.Write(part, 0, got.Count);
        }
        while (!got.EndOfMessage);
        whole.Position = 0;
        return await JsonDocument.ParseAsync(whole, cancellationToken: stop);
    }
}
