using System.CommandLine;
using System.CommandLine.Completions;
using System.Text.Json.Nodes;
using Microsoft.OpenApi;

namespace ShopDiag.Web.Api;

/// <summary>Options of a verb as parameters of a query in the description.</summary>
internal static class QueryParameters
{
    /// <summary>One of them.</summary>
    public static IOpenApiParameter Of(Option option) => new OpenApiParameter
    {
        Name = VerbQuery.NameOf(option), In = ParameterLocation.Query, Required = option.Required, Description = option.Description, Schema = Schema(option),
    };

    private static OpenApiSchema Schema(Option option)
    {
        var type = Nullable.GetUnderlyingType(option.ValueType) ?? option.ValueType;
        var schema = type switch
        {
            _ when type == typeof(int) => new OpenApiSchema { Type = JsonSchemaType.Integer },
            _ when type == typeof(double) => new OpenApiSchema { Type = JsonSchemaType.Number },
            _ when type == typeof(bool) => new OpenApiSchema { Type = JsonSchemaType.Boolean },
            _ when type == typeof(DateOnly) => new OpenApiSchema { Type = JsonSchemaType.String, Format = "date" },
            _ when type == typeof(string) => new OpenApiSchema { Type = JsonSchemaType.String },
            _ => throw new InvalidOperationException($"No form for {option.Name}, a {type}."),
        };
        // What an option is taken from among is what it offers to complete.
        var words = type == typeof(string) ? option.GetCompletions(CompletionContext.Empty).Select(c => c.Label).ToList() : [];
        if (words.Count > 0)
        {
            schema.Enum = [.. words.Select(w => (JsonNode)w)];
        }

        return schema;
    }
}
