namespace ShopDiag.Browser.Tests.Running;

/// <summary>The demo shop, served for all tests of a class.</summary>
public sealed class DemoShop : IAsyncLifetime
{
    /// <summary>An order of the demo shop that is being diagnosed and has readings.</summary>
    public const int InDiagnosis = 1014;

    /// <summary>An order of the demo shop without a reading.</summary>
    public const int WrittenUp = 1016;

    /// <summary>An order of the demo shop with a finding.</summary>
    public const int WithFinding = 1011;

    private ShopServer _server = null!;

    public string Url => _server.Url;

    public async ValueTask InitializeAsync() => _server = await ShopServer.StartAsync(demo: true);

    public ValueTask DisposeAsync() => _server.DisposeAsync();
}
