using System.Text;

namespace ShopDiag.Web.Api;

/// <summary>Documents of JSON, one a line, byte for byte as a verb writes them on standard output.</summary>
/// <param name="contentType">Content type.</param>
/// <param name="lines">The lines, without their ends.</param>
internal sealed class LinesResult(string contentType, IEnumerable<string> lines) : IResult
{
    /// <inheritdoc/>
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        httpContext.Response.ContentType = contentType;
        await using var output = new StreamWriter(httpContext.Response.Body, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true);
        foreach (var line in lines)
        {
            await output.WriteAsync((line + "\n").AsMemory(), httpContext.RequestAborted);
        }
    }
}
