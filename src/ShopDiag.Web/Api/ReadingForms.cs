using System.Globalization;
using System.Text.Json.Nodes;
using Microsoft.OpenApi;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Api;

/// <summary>The form of a reading of each bench test, made from the test's own description: a test that is added describes itself here too.</summary>
internal static class ReadingForms
{
    /// <summary>Adds a form a test, and makes <c>Reading</c> one of them.</summary>
    public static void AddTo(OpenApiDocument document, IDictionary<string, IOpenApiSchema> schemas, IEnumerable<BenchTest> tests)
    {
        var each = tests.ToDictionary(t => $"Reading.{t.Id}", Form);
        foreach (var (name, form) in each)
        {
            schemas[name] = form;
        }

        ((OpenApiSchema)schemas["Reading"]).OneOf = [.. each.Keys.Select(n => new OpenApiSchemaReference(n, document))];
    }

    private static OpenApiSchema Form(BenchTest test)
    {
        var places = new[] { TestScope.Cylinder, TestScope.Bank, TestScope.Engine }.Where(s => test.Takes(BenchTest.KindOf(s))).Select(s => s switch { TestScope.Cylinder => "a cylinder", TestScope.Bank => "a bank", _ => "the engine" });
        return new()
        {
            Type = JsonSchemaType.Object, Title = test.Title, Description = $"{test.Purpose} Taken at {string.Join(" or ", places)}.", Required = new HashSet<string> { "test", "value" },
            Properties = new Dictionary<string, IOpenApiSchema> { ["test"] = new OpenApiSchema { Const = test.Id }, ["value"] = Value("", test.Fields) },
        };
    }

    // A dot in a name is an object within: idle.shortPercent.
    private static OpenApiSchema Value(string prefix, IReadOnlyCollection<TestField> fields)
    {
        var here = fields.Where(f => f.Name.StartsWith(prefix, StringComparison.Ordinal)).GroupBy(f => f.Name[prefix.Length..].Split('.')[0]).ToList();
        return new()
        {
            Type = JsonSchemaType.Object,
            Properties = here.ToDictionary(g => g.Key, IOpenApiSchema (g) => g.First().Name == prefix + g.Key ? Field(g.First()) : Value($"{prefix}{g.Key}.", fields)),
            Required = here.Where(g => g.Any(f => !f.Optional)).Select(g => g.Key).ToHashSet(),
        };
    }

    private static OpenApiSchema Field(TestField field)
    {
        var words = field.Choices.Select(c => (JsonNode)c.Id).ToList();
        var form = field.Kind switch
        {
            FieldKind.Number => Several(new() { Type = JsonSchemaType.Number, Minimum = Number(field.Min), Maximum = Number(field.Max) }, field.Several),
            FieldKind.Cylinder => new OpenApiSchema { Type = JsonSchemaType.Integer },
            FieldKind.Text => new OpenApiSchema { Type = JsonSchemaType.String },
            FieldKind.Codes => Several(new() { Type = JsonSchemaType.String }, true),
            FieldKind.Choices => Several(new() { Enum = words }, true),
            // Yes and no may be said in JSON's own words too.
            FieldKind.Choice => new OpenApiSchema { Enum = words.Exists(w => (string)w! == "yes") ? [.. words, true, false] : words },
            _ => throw new InvalidOperationException($"Unknown kind {field.Kind}."),
        };
        return field.MayBeNull || field.Optional
            ? new() { Description = field.NullMeans is { } means ? $"{field.Label}; null: {means}" : field.Label, AnyOf = [form, new OpenApiSchema { Type = JsonSchemaType.Null }] }
            : form.Described(field.Label);
    }

    private static OpenApiSchema Several(OpenApiSchema one, bool several) => several ? new() { AnyOf = [one, new OpenApiSchema { Type = JsonSchemaType.Array, Items = one, MinItems = 1 }] } : one;

    private static OpenApiSchema Described(this OpenApiSchema form, string label)
    {
        form.Description = label;
        return form;
    }

    private static string? Number(double? bound) => bound?.ToString("R", CultureInfo.InvariantCulture);
}
