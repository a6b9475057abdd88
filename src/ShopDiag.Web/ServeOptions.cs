namespace ShopDiag.Web;

/// <summary>How to serve.</summary>
/// <param name="DataFolder">Folder of the shop's data.</param>
/// <param name="Urls">Addresses to listen on, separated by semicolons.</param>
/// <param name="Demo">True to fill an empty data folder with the demo shop.</param>
/// <param name="Args">Further configuration, as <c>--Section:Key value</c>.</param>
public sealed record ServeOptions(string DataFolder, string Urls, bool Demo, string[] Args)
{
    /// <summary>This machine only: nobody signs in yet, so whoever reaches the address may do anything.</summary>
    public const string LoopbackUrl = "http://127.0.0.1:5080";

    /// <summary>True when every address is on this machine's loopback.</summary>
    public bool LoopbackOnly => Urls.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
        .All(u => BindingAddress.Parse(u).Host is "localhost" or "127.0.0.1" or "[::1]");
}
