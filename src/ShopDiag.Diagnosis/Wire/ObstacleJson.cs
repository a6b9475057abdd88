using System.Collections.Immutable;
using System.Text.Json;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Tests that cannot be taken on a car, as they travel: <c>"obstacles": [{"test": "leak-down", "cylinder": 3, "why": "no adapter fits"}]</c>.</summary>
internal static class ObstacleJson
{
    private static readonly string[] Members = ["test", "cylinder", "bank", "why"];

    /// <summary>Reads the list; empty when the line has none. The error's path starts at the line.</summary>
    public static Parsed<ImmutableArray<Obstacle>> Read(JsonElement json, Engine engine, Knowledge knowledge, ICollection<string> remarks)
    {
        if (JsonInput.Member(json, "obstacles") is not { } list)
        {
            return ImmutableArray<Obstacle>.Empty;
        }

        return JsonInput.List(list, "obstacles", (element, at) =>
        {
            var obstacle = ReadOne(element, engine, knowledge, remarks);
            return obstacle.Error is { } error ? error.Under(at) : obstacle;
        });
    }

    private static Parsed<Obstacle> ReadOne(JsonElement json, Engine engine, Knowledge knowledge, ICollection<string> remarks)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            return new InputError("", "must be an object in braces.");
        }

        if (JsonInput.Member(json, "test") is not { ValueKind: JsonValueKind.String } test)
        {
            return new InputError("test", "is missing: the id of a bench test.");
        }

        foreach (var name in JsonInput.Unknown(json, Members))
        {
            remarks.Add($"obstacles: the field '{name}' is not known and was passed over.");
        }

        var place = ReadingJson.ReadPlace(json);
        var why = JsonInput.Text(json, "why", "");
        if ((place.Error ?? why.Error) is { } error)
        {
            return error;
        }

        var obstacle = new Obstacle(test.GetString()!, place.Value) { Why = why.Value };
        return obstacle.Error(knowledge, engine) is { } wrong ? wrong : obstacle;
    }
}
