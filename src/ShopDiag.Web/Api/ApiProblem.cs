using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.WebUtilities;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Api;

/// <summary>What went wrong with a request of a program, as problem details (RFC 9457): what, where, and what to do.</summary>
/// <param name="Status">Status code.</param>
/// <param name="Detail">What is wrong and what to do, in plain words.</param>
/// <param name="At">Where: a field of the query, a path in the file; null where it is of the request as a whole.</param>
/// <param name="Incident">Number under which the log has it; null for what is no fault of the program.</param>
internal sealed record ApiProblem(int Status, string Detail, string? At = null, string? Incident = null) : IResult
{
    /// <summary>Content type of RFC 9457.</summary>
    public const string ContentType = "application/problem+json";

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The phrase of the status: without a page of our own about a kind of problem, RFC 9457 (4.2.1) asks for "about:blank" and this title.</summary>
    public string Title => ReasonPhrases.GetReasonPhrase(Status);

    /// <summary>What could not be read, as a problem.</summary>
    public static ApiProblem Of(int status, InputError error) => new(status, error.Message, error.At.Length > 0 ? error.At : null);

    /// <inheritdoc/>
    public Task ExecuteAsync(HttpContext httpContext)
    {
        var response = httpContext.Response;
        response.StatusCode = Status;
        response.Headers.CacheControl = "no-store";
        return response.WriteAsJsonAsync(new { Type = "about:blank", Title, Status, Detail, At, Incident }, Options, ContentType, httpContext.RequestAborted);
    }
}
