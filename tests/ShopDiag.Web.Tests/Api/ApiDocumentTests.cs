using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Microsoft.OpenApi;

namespace ShopDiag.Web.Tests.Api;

/// <summary>The description is sound OpenAPI 3.1, says what is there, and every operation answers in the form it describes.</summary>
public sealed class ApiDocumentTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Fact]
    public async Task It_reads_without_a_fault_and_every_operation_is_described_to_the_end()
    {
        var (document, diagnostic) = OpenApiDocument.Parse(await TextAsync(), OpenApiConstants.Json);
        Assert.Empty(diagnostic!.Errors);
        Assert.Empty(diagnostic.Warnings);
        Assert.Equal(OpenApiSpecVersion.OpenApi3_1, diagnostic.SpecificationVersion);
        var bearer = document!.Components!.SecuritySchemes!["bearer"];
        Assert.Equal((SecuritySchemeType.Http, "bearer"), (bearer.Type!.Value, bearer.Scheme));
        Assert.Single(document.Security!);
        Assert.All(document.Paths.SelectMany(p => p.Value.Operations!.Values), o =>
        {
            Assert.NotEmpty(o.OperationId!);
            Assert.NotEmpty(o.Summary!);
            Assert.Contains("tick at '", o.Description, StringComparison.Ordinal);
            Assert.All(o.Parameters ?? [], p => Assert.NotEmpty(p.Description!));
            Assert.Superset(new HashSet<string> { "200", "400", "401", "403", "429", "500" }, o.Responses!.Keys.ToHashSet());
            Assert.All(o.Responses!.Where(r => r.Key != "200"), r => Assert.Equal("#/components/schemas/Problem", Assert.IsType<OpenApiSchemaReference>(r.Value.Content!["application/problem+json"].Schema).Reference.ReferenceV3));
        });
    }

    [Fact]
    public async Task It_says_of_the_choices_what_the_verbs_say()
    {
        var document = JsonNode.Parse(await TextAsync())!;
        var listen = document["paths"]!["/api/v1/listen"]!["post"]!["parameters"]!.AsArray();
        Assert.Equal(["cylinders", "idle", "order", "time", "column"], listen.Select(p => (string)p!["name"]!));
        Assert.Equal((true, "integer"), ((bool)listen[0]!["required"]!, (string)listen[0]!["schema"]!["type"]!));
        Assert.Equal(["ms", "s", "us"], listen[3]!["schema"]!["enum"]!.AsArray().Select(w => (string)w!).Order());
        var tests = document["components"]!["schemas"]!["TestId"]!["enum"]!.AsArray().Select(t => (string)t!);
        Assert.Equal(Diagnosis.Knowledge.Shipped.Tests.Select(t => t.Id), tests);
    }

    [Fact]
    public async Task Every_operation_in_it_is_called_and_answers_in_the_form_it_describes()
    {
        var document = JsonNode.Parse(await TextAsync())!;
        Dictionary<string, Func<string, Task<HttpResponseMessage>>> calls = new()
        {
            ["diagnose"] = p => shop.PostAsync(p, Samples.Workups, "application/x-ndjson"),
            ["listen"] = p => shop.PostAsync(p + "?cylinders=4&order=1,3,4,2", Samples.Sound, "audio/wav"),
            ["crank"] = p => shop.PostAsync(p, Samples.Coil, "text/csv"),
            ["decode"] = p => shop.PostAsync(p, Samples.Obd, "text/plain"),
            ["reportCustomer"] = Order,
            ["reportInvoice"] = Order,
            ["reportParts"] = Order,
            ["reportBench"] = Order,
            ["comebacks"] = shop.GetAsync,
            ["comebacksOnPaper"] = shop.GetAsync,
        };
        var operations = document["paths"]!.AsObject().SelectMany(p => p.Value!.AsObject().Where(m => m.Key is "get" or "post").Select(m => (Path: p.Key, Operation: m.Value!))).ToList();
        Assert.Equal(calls.Keys.Order(), operations.Select(o => (string)o.Operation["operationId"]!).Order());
        foreach (var (path, operation) in operations)
        {
            using var answer = await calls[(string)operation["operationId"]!](path);
            Assert.Equal((path, HttpStatusCode.OK), (path, answer.StatusCode));
            var (type, media) = operation["responses"]!["200"]!["content"]!.AsObject().Single();
            Assert.Equal(type, answer.Content.Headers.ContentType!.MediaType);
            if (media!["schema"] is { } schema)
            {
                var lines = (await answer.Content.ReadAsStringAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
                Assert.NotEmpty(lines);
                Assert.All(lines, l => Fits(document, (string)schema["$ref"]!, l));
            }
        }

        Task<HttpResponseMessage> Order(string path) => shop.GetAsync(path.Replace("{order}", "1003", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_is_sent_and_what_goes_wrong_have_the_forms_it_describes()
    {
        var document = JsonNode.Parse(await TextAsync())!;
        var lines = Samples.Workups.Split('\n').Where(l => l.StartsWith('{')).ToLookup(l => Diagnosis.Wire.WorkupJson.Read(l, Diagnosis.Knowledge.Shipped).Workup.IsValid);
        Assert.All(lines[true], l => Fits(document, "#/components/schemas/Workup", l));
        Assert.NotEmpty(lines[false]);
        Assert.All(lines[false], l => Assert.Throws<Xunit.Sdk.TrueException>(() => Fits(document, "#/components/schemas/Workup", l)));

        using var wrong = await shop.PostAsync("/api/v1/listen", "x", "audio/wav");
        Fits(document, "#/components/schemas/Problem", await wrong.Content.ReadAsStringAsync());
        Assert.Throws<Xunit.Sdk.TrueException>(() => Fits(document, "#/components/schemas/Problem", "{\"title\":\"no status\"}"));
    }

    [Fact]
    public async Task Nobody_needs_a_token_to_read_it_and_it_says_nothing_of_the_shop()
    {
        using var nobody = Tokens.Program(shop.Url, null);
        var text = await nobody.GetStringAsync(new Uri("/api/v1/openapi.json", UriKind.Relative));
        Assert.DoesNotContain(shop.Folder, text, StringComparison.Ordinal);
        Assert.DoesNotContain("Nora", text, StringComparison.OrdinalIgnoreCase);
    }

    private Task<string> TextAsync() => shop.Program.GetStringAsync(new Uri("/api/v1/openapi.json", UriKind.Relative));

    // Schemas of OpenAPI 3.1 are JSON Schema 2020-12; judged by a library that has nothing to do with the one that wrote them.
    private static void Fits(JsonNode document, string form, string line)
    {
        var schemas = document["components"]!["schemas"]!.ToJsonString().Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal);
        var schema = JsonSchema.FromText($$"""{"$schema":"https://json-schema.org/draft/2020-12/schema","$ref":"{{form.Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal)}}","$defs":{{schemas}}}""");
        using var json = JsonDocument.Parse(line);
        var result = schema.Evaluate(json.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(result.IsValid, $"{form}: {line[..Math.Min(200, line.Length)]}\n{string.Join('\n', (result.Details ?? []).Where(d => d.Errors is not null).Select(d => $"{d.InstanceLocation} {string.Join(' ', d.Errors!.Values)}").Take(8))}");
    }
}
