using Microsoft.JSInterop;

namespace ShopDiag.Web.Look;

/// <summary>
/// The browser's side of a page: a module that belongs to it, with <c>dispose</c>. A page that is gone has nothing left to be told, and what fails in the browser is logged:
/// a cursor in the wrong place is a nuisance, a page that falls over for it would be worse.
/// </summary>
/// <param name="js">The browser.</param>
/// <param name="path">The module's path below <c>Components</c>.</param>
/// <param name="log">Where failures go.</param>
public abstract class PageScript(IJSRuntime js, string path, ILogger log) : IAsyncDisposable
{
    private static readonly TimeSpan UsualTime = TimeSpan.FromMinutes(1);
    private IJSObjectReference? _module;

    /// <summary>Loads the module.</summary>
    public virtual async Task StartAsync() => _module = await js.InvokeAsync<IJSObjectReference>("import", $"./Components/{path}");

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        await TellAsync("dispose");
        try
        {
            if (_module is not null)
            {
                await _module.DisposeAsync();
            }
        }
        catch (Exception e) when (IsGone(e))
        {
            // The page went first.
        }
    }

    /// <summary>Calls a function of the module and gives its answer; <paramref name="otherwise"/> where there is none.</summary>
    protected async Task<T> AskAsync<T>(string what, T otherwise, TimeSpan? time, params object?[] arguments)
    {
        try
        {
            return _module is null ? otherwise : await _module.InvokeAsync<T?>(what, time ?? UsualTime, arguments) ?? otherwise;
        }
        catch (Exception e) when (IsGone(e))
        {
            return otherwise;
        }
        catch (JSException e)
        {
            log.LogError(e, "'{What}' of {Path} failed in the browser", what, path);
            return otherwise;
        }
    }

    /// <summary>Calls a function of the module.</summary>
    protected async Task TellAsync(string what, params object?[] arguments)
    {
        try
        {
            if (_module is not null)
            {
                await _module.InvokeVoidAsync(what, arguments);
            }
        }
        catch (Exception e) when (IsGone(e))
        {
            // The page went first.
        }
        catch (JSException e)
        {
            log.LogError(e, "'{What}' of {Path} failed in the browser", what, path);
        }
    }

    private static bool IsGone(Exception e) => e is JSDisconnectedException or TaskCanceledException or ObjectDisposedException;
}
