using Microsoft.JSInterop;

namespace ShopDiag.Web.Saving;

/// <summary>This tablet, for as long as its page is open: who works on it. Until people sign in, that is the name kept in the browser.</summary>
public sealed class Tablet(IJSRuntime js)
{
    /// <summary>Longest name.</summary>
    public const int NameLength = 60;

    /// <summary>Name of the person, or empty when nobody said.</summary>
    public string By { get; private set; } = "";

    /// <summary>Reads what the browser remembers.</summary>
    public async Task LoadAsync() => By = await js.InvokeAsync<string?>("shell.who") ?? "";

    /// <summary>Says who works on this tablet from now on.</summary>
    public async Task SetAsync(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var trimmed = name.Trim();
        By = trimmed.Length > NameLength ? trimmed[..NameLength] : trimmed;
        await js.InvokeVoidAsync("shell.setWho", By);
    }
}
