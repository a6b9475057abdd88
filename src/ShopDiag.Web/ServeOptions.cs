namespace ShopDiag.Web;

/// <summary>How to serve.</summary>
/// <param name="DataFolder">Folder of the shop's data.</param>
/// <param name="Urls">Addresses to listen on, separated by semicolons.</param>
/// <param name="Demo">True to fill an empty data folder with the demo shop.</param>
/// <param name="Args">Further configuration, as <c>--Section:Key value</c>.</param>
public sealed record ServeOptions(string DataFolder, string Urls, bool Demo, string[] Args)
{
    /// <summary>This machine only: without https, passwords would cross the network in the clear.</summary>
    public const string LoopbackUrl = "http://127.0.0.1:5080";

    /// <summary>All addresses of this machine, over https with the shop's own certificate.</summary>
    public const string HttpsUrl = "https://*:5443";

    /// <summary>True when an address is https: the shop's own certificate serves it.</summary>
    public bool Https => Addresses.Any(a => a.Scheme == "https");

    /// <summary>True when what is not encrypted stays on this machine.</summary>
    public bool PlainLoopbackOnly => Addresses.Where(a => a.Scheme != "https").All(IsLoopback);

    /// <summary>True when every address is on this machine's loopback.</summary>
    public bool LoopbackOnly => Addresses.All(IsLoopback);

    private IEnumerable<BindingAddress> Addresses => Urls.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(BindingAddress.Parse);

    private static bool IsLoopback(BindingAddress address) => address.Host is "localhost" or "127.0.0.1" or "[::1]";
}
