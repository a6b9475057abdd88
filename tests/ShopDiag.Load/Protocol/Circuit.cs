using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;

namespace ShopDiag.Load.Protocol;

/// <summary>
/// An open page without a browser: it keeps what the server draws, answers what the server asks of the browser, and sends events as a browser would. All that it leaves out is drawing.
/// </summary>
internal sealed partial class Circuit : IAsyncDisposable
{
    // What the server may ask for: an object of the browser (a module), or nothing.
    private const int WantsObject = 1;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(120);

    private readonly HubConnection _connection;
    private readonly PageTree _page = new();
    private readonly Lock _lock = new();

    // A browser does one thing at a time: between finding a handler's number and sending it no drawing is acknowledged, after which the server would forget the number.
    private readonly SemaphoreSlim _turn = new(1);
    private readonly List<(Func<PageTree, bool> Fits, TaskCompletionSource Done)> _waiting = [];
    private readonly ConcurrentDictionary<string, TaskCompletionSource> _calls = new();
    private readonly TaskCompletionSource<Exception> _broken = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private long _number;
    private long _renderer = 1;

    private Circuit(Uri server, CookieContainer cookies)
    {
        var builder = new HubConnectionBuilder().WithUrl(new Uri(server, "_blazor"), o =>
        {
            o.Cookies = cookies;
            o.Headers["Origin"] = server.GetLeftPart(UriPartial.Authority);
        });
        builder.Services.AddSingleton<IHubProtocol>(new BlazorPack());
        _connection = builder.Build();
        // As connection.js has it.
        _connection.KeepAliveInterval = TimeSpan.FromSeconds(3);
        _connection.ServerTimeout = Patience;
        _connection.On<int, string>("JS.AttachComponent", (component, _) => Attach(component));
        _connection.On<long, byte[]>("JS.RenderBatch", DrawAsync);
        _connection.On<long, string, string, int, long, int>("JS.BeginInvokeJS", AnswerAsync);
        _connection.On<string, bool, string>("JS.EndInvokeDotNet", Ended);
        _connection.On<string>("JS.Error", e => Break(new InvalidOperationException($"The server ended the page: {e}")));
        _connection.Closed += e =>
        {
            Break(e ?? new InvalidOperationException("The connection was closed."));
            return Task.CompletedTask;
        };
    }

    /// <summary>Opens a page as whoever the cookies say. Throws when it is refused.</summary>
    public static async Task<Circuit> OpenAsync(Uri server, CookieContainer cookies, string path)
    {
        using var client = new HttpClient(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = server };
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative));
        var html = await answer.Content.ReadAsStringAsync();
        if (answer.StatusCode != HttpStatusCode.OK)
        {
            throw new InvalidOperationException($"{path}: {answer.StatusCode}");
        }

        var circuit = new Circuit(server, cookies);
        await circuit._connection.StartAsync();
        var state = State().Match(html) is { Success: true } kept ? kept.Groups[1].Value : "";
        var id = await circuit._connection.InvokeAsync<string?>("StartCircuit", server.AbsoluteUri, new Uri(server, path).AbsoluteUri, "[]", state);
        if (string.IsNullOrEmpty(id))
        {
            throw new InvalidOperationException($"{path}: the server opened no circuit.");
        }

        var operations = Marker().Matches(html).Select(m => m.Groups[1].Value).Where(m => m.Contains("\"type\":\"server\"", StringComparison.Ordinal))
            .Select((marker, i) => string.Create(CultureInfo.InvariantCulture, $$"""{"type":"add","ssrComponentId":{{i + 1}},"marker":{{marker}}}"""));
        await circuit._connection.SendAsync("UpdateRootComponents", $$"""{"batchId":1,"operations":[{{string.Join(',', operations)}}]}""", state);
        return circuit;
    }

    /// <summary>Waits until the page looks so. Throws when it does not within two minutes or the page is ended.</summary>
    public async Task UntilAsync(Func<PageTree, bool> fits, string what)
    {
        TaskCompletionSource done = new(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (_lock)
        {
            if (fits(_page))
            {
                return;
            }

            _waiting.Add((fits, done));
        }

        await WaitAsync(done.Task, what);
    }

    /// <summary>Looks at the page.</summary>
    public T Look<T>(Func<PageTree, T> look)
    {
        lock (_lock)
        {
            return look(_page);
        }
    }

    /// <summary>Something happens on an element; ends when the server has dealt with it.</summary>
    /// <param name="find">The element.</param>
    /// <param name="happens">As the browser calls it, such as <c>click</c>.</param>
    /// <param name="about">What the event carries.</param>
    public async Task SendAsync(Func<PageTree, Node?> find, string happens, object about)
    {
        var call = Interlocked.Increment(ref _number).ToString(CultureInfo.InvariantCulture);
        var done = _calls[call] = new(TaskCreationOptions.RunContinuationsAsynchronously);
        await InTurnAsync(() =>
        {
            var handler = Look(p => (find(p) ?? throw new InvalidOperationException($"There is nothing to {happens}.")).Handlers["on" + happens]);
            var arguments = JsonSerializer.Serialize<object[]>([new { eventHandlerId = handler, eventName = happens, eventFieldInfo = (object?)null }, about]);
            return _connection.SendAsync("BeginInvokeDotNetFromJS", call, (string?)null, "DispatchEventAsync", _renderer, arguments);
        });
        await WaitAsync(done.Task, happens);
    }

    public async ValueTask DisposeAsync()
    {
        await _connection.DisposeAsync();
        _turn.Dispose();
    }

    private async Task InTurnAsync(Func<Task> act)
    {
        await _turn.WaitAsync();
        try
        {
            await act();
        }
        finally
        {
            _turn.Release();
        }
    }

    private async Task WaitAsync(Task task, string what)
    {
        var first = await Task.WhenAny(task, _broken.Task, Task.Delay(Patience));
        if (first != task)
        {
            throw new TimeoutException($"No answer to: {what}.", _broken.Task.IsCompleted ? await _broken.Task : null);
        }

        await task;
    }

    private void Attach(int component)
    {
        lock (_lock)
        {
            _page.Attach(component);
        }
    }

    private async Task DrawAsync(long number, byte[] batch)
    {
        try
        {
            await InTurnAsync(() =>
            {
                Draw(new(batch));
                return _connection.SendAsync("OnRenderCompleted", number, (string?)null);
            });
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            Break(e);
        }
    }

    private void Draw(RenderBatch batch)
    {
        lock (_lock)
        {
            _page.Apply(batch);
            foreach (var (_, done) in _waiting.Where(w => w.Fits(_page)).ToArray())
            {
                _waiting.RemoveAll(w => w.Done == done);
                done.SetResult();
            }
        }
    }

    private async Task AnswerAsync(long call, string what, string arguments, int wants, long target, int kind)
    {
        if (what == "Blazor._internal.attachWebRendererInterop")
        {
            _renderer = JsonDocument.Parse(arguments).RootElement[1].GetProperty("__dotNetObject").GetInt64();
        }

        // A call without a number wants no answer.
        if (call != 0)
        {
            var result = wants == WantsObject ? """{"__jsObjectId":1}""" : what == "drafts" ? "[]" : "null";
            await _connection.SendAsync("EndInvokeJSFromDotNet", call, true, string.Create(CultureInfo.InvariantCulture, $"[{call},true,{result}]"));
        }
    }

    private void Ended(string call, bool succeeded, string result)
    {
        if (_calls.TryRemove(call, out var done))
        {
            _ = succeeded ? done.TrySetResult() : done.TrySetException(new InvalidOperationException(result));
        }
    }

    private void Break(Exception why) => _broken.TrySetResult(why);

    [GeneratedRegex("<!--Blazor:({.*?})-->")]
    private static partial Regex Marker();

    [GeneratedRegex("<!--Blazor-Server-Component-State:(.*?)-->")]
    private static partial Regex State();
}
