using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>A Jupyter notebook server on loopback with a token, ended with all its kernels.</summary>
internal sealed class NotebookServer : IAsyncDisposable
{
    private readonly Process _process;
    private readonly StringBuilder _log = new();
    private readonly string _root;

    private NotebookServer(Process process, string root)
    {
        _process = process;
        _root = root;
    }

    private int Port { get; set; }

    private string Token { get; set; } = string.Empty;

    /// <summary>What the server wrote, for the message of a failing test.</summary>
    public string Log
    {
        get
        {
            lock (_log)
            {
                return _log.ToString();
            }
        }
    }

    public static async Task<NotebookServer> StartAsync(Workplace place)
    {
        var start = new ProcessStartInfo("jupyter-notebook", ["--no-browser", "--ip=127.0.0.1", $"--port={FreePort()}", "--port-retries=20"])
        {
            WorkingDirectory = place.Notebooks,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        if (Environment.IsPrivilegedProcess)
        {
            start.ArgumentList.Add("--allow-root");
        }

        foreach ((string name, string value) in place.Environment)
        {
            start.Environment[name] = value;
        }

        var server = new NotebookServer(Process.Start(start)!, place.Notebooks);
        try
        {
            server._process.OutputDataReceived += server.Note;
            server._process.ErrorDataReceived += server.Note;
            server._process.BeginOutputReadLine();
            server._process.BeginErrorReadLine();

            // The server tells its port and its token in a file of its own.
            string told = Path.Combine(place.Environment["JUPYTER_RUNTIME_DIR"], $"nbserver-{server._process.Id}.json");
            var clock = Stopwatch.StartNew();
            while (server.Port == 0)
            {
                Assert.True(clock.Elapsed < TimeSpan.FromSeconds(60) && !server._process.HasExited, $"The notebook server did not start: {server.Log}");
                await Task.Delay(100);
                server.Read(told);
            }

            return server;
        }
        catch
        {
            await server.DisposeAsync();
            throw;
        }
    }

    /// <summary>The address of a notebook's page.</summary>
    public Uri PageOf(string notebook) => new($"http://127.0.0.1:{Port}/notebooks/{Uri.EscapeDataString(notebook)}?token={Token}");

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(20));
            await _process.WaitForExitAsync(limit.Token);
        }

        _process.Dispose();
    }

    /// <summary>A port that is free now; should another program take it first, the server tries those after it.</summary>
    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private void Read(string told)
    {
        try
        {
            using JsonDocument facts = JsonDocument.Parse(File.ReadAllText(told));
            Assert.Equal(_root, facts.RootElement.GetProperty("notebook_dir").GetString());
            Token = facts.RootElement.GetProperty("token").GetString()!;
            Assert.True(Token.Length >= 32, "The server must ask for a token.");
            Port = facts.RootElement.GetProperty("port").GetInt32();
        }
        catch (Exception notYet) when (notYet is FileNotFoundException or DirectoryNotFoundException or JsonException)
        {
            // The file is not there or not whole yet.
        }
    }

    private void Note(object sender, DataReceivedEventArgs line)
    {
        lock (_log)
        {
            _log.AppendLine(line.Data);
        }
    }
}
