namespace ShopDiag.Web.Api;

/// <summary>Where the HTTP interface for other programs is.</summary>
internal static class ApiAddress
{
    /// <summary>What its addresses begin with. The number changes when what a program relies on does.</summary>
    public const string Root = "/api/v1";

    /// <summary>Its description, in OpenAPI.</summary>
    public const string Document = Root + "/openapi.json";

    /// <summary>True for what a program asks for, known address or not.</summary>
    public static bool IsFor(HttpRequest request) => request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase);
}
