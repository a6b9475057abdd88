using System.Reflection;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using ShopDiag.Diagnosis;
using ShopDiag.Web.Keeping;

namespace ShopDiag.Web.Api;

/// <summary>The description of the HTTP interface in OpenAPI: addresses come from the endpoints, choices from the options of the verbs, forms of lines from <c>lines.json</c>.</summary>
internal static class ApiDocument
{
    private const string Bearer = "bearer";
    private const string Problem = "Problem";

    /// <summary>What every endpoint may answer when something is wrong.</summary>
    private static readonly (int Status, string When)[] Always =
    [
        (StatusCodes.Status400BadRequest, "Something in the query is wrong; 'at' says which."),
        (StatusCodes.Status401Unauthorized, "No token, or one that does not hold."),
        (StatusCodes.Status403Forbidden, "The token may not do this."),
        (StatusCodes.Status429TooManyRequests, "Too much at once; the header Retry-After says how many seconds to wait."),
        (StatusCodes.Status500InternalServerError, "The program ran into an error; 'incident' names it in the log."),
    ];

    private static readonly (int Status, string When)[] OfBodies =
    [
        (StatusCodes.Status413PayloadTooLarge, "What was sent is too large."),
        (StatusCodes.Status415UnsupportedMediaType, "The header Content-Type names nothing that is taken here."),
        (StatusCodes.Status507InsufficientStorage, "The disk takes nothing more; the file could not be set down to be read."),
    ];

    private static readonly (int Status, string When)[] OfOrders =
    [
        (StatusCodes.Status404NotFound, "There is no such order."),
        (StatusCodes.Status409Conflict, "The order has not come so far yet; 'detail' says what is missing."),
    ];

    /// <summary>Says how the description is made.</summary>
    public static void Describe(OpenApiOptions options)
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.ShouldInclude = d => d.ActionDescriptor.EndpointMetadata.OfType<ApiOperation>().Any();
        options.AddDocumentTransformer((document, _, _) =>
        {
            Head(document);
            return Task.CompletedTask;
        });
        options.AddOperationTransformer((operation, context, _) =>
        {
            Fill(operation, context.Description.ActionDescriptor.EndpointMetadata.OfType<ApiOperation>().Single(), context.Document!);
            return Task.CompletedTask;
        });
    }

    private static void Head(OpenApiDocument document)
    {
        document.Info = new()
        {
            Title = "ShopDiag", Version = RunningNow.Version,
            Description = "Finds which cylinder misfires and why. Everything is as the program's verbs have it on the command line. Errors are problem details (RFC 9457).",
        };
        document.Components ??= new();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            [Bearer] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = "bearer", Description = "A token that the owner made on the page Programs: shopdiag_ and 43 letters." },
        };
        document.Components.Schemas = Lines();
        ReadingForms.AddTo(document, document.Components.Schemas, Knowledge.Shipped.Tests);
        document.Security = [new() { [new OpenApiSecuritySchemeReference(Bearer, document)] = [] }];
        document.SetReferenceHostDocument();
    }

    private static IDictionary<string, IOpenApiSchema> Lines()
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("ShopDiag.Web.Api.lines.json")!;
        using var reader = new StreamReader(stream);
        var read = OpenApiDocument.Parse(reader.ReadToEnd(), OpenApiConstants.Json);
        var schemas = read.Document?.Components?.Schemas ?? throw new InvalidOperationException($"lines.json cannot be read: {string.Join(' ', read.Diagnostic?.Errors ?? [])}");
        // What there is to be tested and found stands in the files of the knowledge.
        ((OpenApiSchema)schemas["TestId"]).Enum = [.. Knowledge.Shipped.Tests.Select(t => (JsonNode)t.Id)];
        ((OpenApiSchema)schemas["CauseId"]).Enum = [.. Knowledge.Shipped.Causes.Select(c => (JsonNode)c.Id)];
        return schemas;
    }

    private static void Fill(OpenApiOperation operation, ApiOperation about, OpenApiDocument document)
    {
        operation.OperationId = about.Id;
        operation.Summary = about.Summary;
        operation.Description = $"{about.Description} Needs a token with a tick at '{about.Grant}'.";
        var order = operation.Parameters?.Where(p => p.In == ParameterLocation.Path) ?? [];
        operation.Parameters = [.. order.Select(Order), .. about.Query.Select(QueryParameters.Of)];
        operation.RequestBody = about.Takes.IsEmpty ? null : new OpenApiRequestBody
        {
            Required = true, Content = about.Takes.ToDictionary(t => t, _ => Media(about.TakesLine, document)),
            Description = $"{about.LargestBody / 1_000_000} MB at most.{(about.TakesLine is null ? " The file as it is." : " A document of this form a line.")}",
        };
        operation.Responses = new()
        {
            ["200"] = new OpenApiResponse
            {
                Description = about switch { { GivesLine: null } => "A PDF file.", { Gives: ApiEndpoints.Lines } => "A document of this form a line.", _ => "One document." },
                Content = new Dictionary<string, OpenApiMediaType> { [about.Gives] = Media(about.GivesLine, document) },
            },
        };
        foreach (var (status, when) in Problems(about))
        {
            operation.Responses[status.ToString(System.Globalization.CultureInfo.InvariantCulture)] = new OpenApiResponse
            {
                Description = when, Content = new Dictionary<string, OpenApiMediaType> { [ApiProblem.ContentType] = Media(Problem, document) },
            };
        }
    }

    private static IEnumerable<(int Status, string When)> Problems(ApiOperation about) => Always
        .Concat(about.Takes.IsEmpty ? [] : OfBodies).Concat(about.OfOrder ? OfOrders : [])
        .Concat(about.MayBeUnreadable ? [(StatusCodes.Status422UnprocessableEntity, "What was sent cannot be read; 'at' and 'detail' say where and why.")] : []).OrderBy(p => p.Item1);

    // Bytes have no schema in OpenAPI 3.1 (4.8.14.3): the content type says it.
    private static OpenApiMediaType Media(string? line, OpenApiDocument document) => line is null ? new() : new() { Schema = new OpenApiSchemaReference(line, document) };

    private static IOpenApiParameter Order(IOpenApiParameter found)
    {
        if (found is OpenApiParameter parameter)
        {
            parameter.Description = "Number of the repair order.";
        }

        return found;
    }
}
