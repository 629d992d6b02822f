using System.Net;
using System.Net.Sockets;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>Serves a folder to a browser on this machine: pages that are put together from modules cannot be opened from a file.</summary>
internal sealed class SiteServer : IDisposable
{
    private readonly HttpListener _listener = new();
    private readonly string _folder;

    public SiteServer(string folder)
    {
        _folder = folder;
        using var free = new TcpListener(IPAddress.Loopback, 0);
        free.Start();
        Address = new Uri($"http://127.0.0.1:{((IPEndPoint)free.LocalEndpoint).Port}/");
        free.Stop();
        _listener.Prefixes.Add(Address.AbsoluteUri);
        _listener.Start();
        _ = Task.Run(ServeAsync);
    }

    public Uri Address { get; }

    public void Dispose() => ((IDisposable)_listener).Dispose();

    private async Task ServeAsync()
    {
        while (_listener.IsListening)
        {
            HttpListenerContext asked;
            try
            {
                asked = await _listener.GetContextAsync();
            }
            catch (Exception closed) when (closed is HttpListenerException or ObjectDisposedException)
            {
                return;
            }

            try
            {
                await AnswerAsync(asked);
            }
            catch (Exception gone) when (gone is HttpListenerException or IOException or ObjectDisposedException)
            {
                // A browser that is closed while it is answered.
            }
        }
    }

    private async Task AnswerAsync(HttpListenerContext asked)
    {
        string file = Path.Combine(_folder, Uri.UnescapeDataString(asked.Request.Url!.AbsolutePath).TrimStart('/'));
        asked.Response.ContentType = Path.GetExtension(file) switch
        {
            ".html" => "text/html; charset=utf-8", ".js" => "text/javascript", ".css" => "text/css", ".svg" => "image/svg+xml", ".json" => "application/json", _ => "application/octet-stream",
        };
        asked.Response.StatusCode = File.Exists(file) ? 200 : 404;
        if (File.Exists(file))
        {
            byte[] bytes = await File.ReadAllBytesAsync(file);
            await asked.Response.OutputStream.WriteAsync(bytes);
        }

        asked.Response.Close();
    }
}
