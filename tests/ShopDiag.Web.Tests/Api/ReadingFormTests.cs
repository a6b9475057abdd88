using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Wire;

namespace ShopDiag.Web.Tests.Api;

/// <summary>The form of a reading in the description and the program that reads it say the same of what is right and what is wrong.</summary>
public sealed class ReadingFormTests(ApiShop shop) : IClassFixture<ApiShop>
{
    public static TheoryData<string> Tests => [.. Knowledge.Shipped.Tests.Select(t => t.Id)];

    [Theory]
    [MemberData(nameof(Tests))]
    public async Task They_agree_on(string id)
    {
        var test = Knowledge.Shipped.Test(id)!;
        var form = await FormAsync();
        Agree(form, Reading(test, _ => true), right: true);
        Agree(form, Reading(test, f => !f.Optional), right: true);
        foreach (var field in test.Fields)
        {
            if (!field.Optional)
            {
                Agree(form, Reading(test, f => f != field), right: false);
            }

            foreach (var wrong in Wrong(field))
            {
                Agree(form, Reading(test, _ => true, field, wrong), right: false);
            }
        }
    }

    private static void Agree(JsonSchema form, JsonObject reading, bool right)
    {
        using var json = JsonDocument.Parse(reading.ToJsonString());
        Assert.True(right == form.Evaluate(json.RootElement).IsValid, $"{(right ? "right" : "wrong")} by the form: {reading.ToJsonString()}");
        var line = $$"""{"id":"a","engine":{{Samples.Engine}},"readings":[{{reading.ToJsonString()}}]}""";
        var read = WorkupJson.Read(line, Knowledge.Shipped).Workup;
        Assert.True(right == read.IsValid, $"{(right ? "right" : "wrong")} by the reader: {reading.ToJsonString()} {read.Error}");
    }

    private static JsonObject Reading(BenchTest test, Func<TestField, bool> with, TestField? changed = null, JsonNode? to = null)
    {
        var value = new JsonObject();
        foreach (var field in test.Fields.Where(with))
        {
            var (at, path) = (value, field.Name.Split('.'));
            foreach (var step in path[..^1])
            {
                at = (JsonObject)(at[step] ??= new JsonObject());
            }

            at[path[^1]] = field == changed ? to!.DeepClone() : Plausible(field);
        }

        var reading = new JsonObject { ["test"] = test.Id, ["value"] = value };
        if (test.Scope != TestScope.Engine)
        {
            reading[test.Scope == TestScope.Cylinder ? "cylinder" : "bank"] = 1;
        }

        return reading;
    }

    private static JsonNode Plausible(TestField field) => field.Kind switch
    {
        FieldKind.Number => ((field.LikelyMin ?? field.Min ?? 1) + (field.LikelyMax ?? field.Max ?? 3)) / 2,
        FieldKind.Cylinder => 2,
        FieldKind.Choice => field.Choices[0].Id,
        FieldKind.Choices => new JsonArray(field.Choices[0].Id),
        FieldKind.Codes => new JsonArray("P0301"),
        _ => "words",
    };

    private static IEnumerable<JsonNode> Wrong(TestField field) => field.Kind switch
    {
        FieldKind.Number => [.. (JsonNode[])(field.Max is { } most ? [most + 1] : []), .. (JsonNode[])(field.Min is { } least ? [least - 1] : []), "much"],
        FieldKind.Choice => ["no such word"],
        FieldKind.Choices => [new JsonArray("no such word")],
        _ => [],
    };

    private async Task<JsonSchema> FormAsync()
    {
        var document = JsonNode.Parse(await shop.Program.GetStringAsync(new Uri("/api/v1/openapi.json", UriKind.Relative)))!;
        var schemas = document["components"]!["schemas"]!.ToJsonString().Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal);
        return JsonSchema.FromText($$"""{"$schema":"https://json-schema.org/draft/2020-12/schema","$ref":"#/$defs/Reading","$defs":{{schemas}}}""");
    }
}
