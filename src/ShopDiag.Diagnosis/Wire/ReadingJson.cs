using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Readings as they travel.</summary>
public static class ReadingJson
{
    private static readonly string[] Members = ["test", "cylinder", "bank", "value", "stage", "warm", "takenAt", "by", "note", "supersedes"];

    /// <summary>Reads and checks one reading of a workup line. The error's path starts inside the reading.</summary>
    public static Parsed<Reading> Read(JsonElement json, Engine engine, Knowledge knowledge, ICollection<string> remarks)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        ArgumentNullException.ThrowIfNull(remarks);
        if (json.ValueKind != JsonValueKind.Object)
        {
            return new InputError("", "must be an object in braces.");
        }

        if (JsonInput.Member(json, "test") is not { ValueKind: JsonValueKind.String } id)
        {
            return new InputError("test", "is missing: the id of a bench test.");
        }

        if (knowledge.Test(id.GetString()!) is not { } test)
        {
            return new InputError("test", $"There is no test '{id.GetString()}'. Known: {string.Join(", ", knowledge.Tests.Select(t => t.Id))}.");
        }

        foreach (var name in JsonInput.Unknown(json, Members))
        {
            remarks.Add($"{test.Id}: the field '{name}' is not known and was passed over.");
        }

        return ReadOf(test, json, engine, remarks);
    }

    private static Parsed<Reading> ReadOf(BenchTest test, JsonElement json, Engine engine, ICollection<string> remarks)
    {
        var place = ReadPlace(json);
        var stage = JsonInput.Member(json, "stage") is null ? Stage.Before : JsonInput.Word(json, "stage", [("before", Stage.Before), ("after", Stage.After)]);
        var by = JsonInput.Text(json, "by", "");
        var note = JsonInput.Text(json, "note", "");
        var takenAt = ReadTime(json);
        Parsed<int> supersedes = JsonInput.Member(json, "supersedes") is { } s ? JsonInput.Whole(s, "supersedes") : -1;
        var value = JsonInput.Member(json, "value") is { } v ? ReadValue(v, test, remarks) : new InputError("value", "is missing.");
        if ((place.Error ?? value.Error ?? stage.Error ?? by.Error ?? note.Error ?? takenAt.Error ?? supersedes.Error) is { } error)
        {
            return error;
        }

        var reading = new Reading
        {
            Test = test.Id,
            At = place.Value,
            Value = value.Value,
            Stage = stage.Value,
            Warm = JsonInput.Member(json, "warm")?.ValueKind switch { JsonValueKind.True => true, JsonValueKind.False => false, _ => null },
            TakenAt = takenAt.Value,
            By = by.Value.Length == 0 ? null : by.Value,
            Note = note.Value.Length == 0 ? null : note.Value,
            Supersedes = supersedes.Value < 0 ? null : supersedes.Value,
        };
        return ReadingCheck.Error(reading, test, engine) is { } wrong ? wrong : reading;
    }

    /// <summary>A value as JSON text with the fields of its test, in field order.</summary>
    public static string WriteValue(ReadingValue value, BenchTest test)
    {
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(test);
        var root = new JsonObject();
        foreach (var field in test.Fields.Where(f => value.Has(f.Name)))
        {
            var at = root;
            var path = field.Name.Split('.');
            foreach (var step in path[..^1])
            {
                at = (JsonObject)(at[step] ??= new JsonObject());
            }

            at[path[^1]] = Node(value.Fields[field.Name], field);
        }

        return root.ToJsonString();
    }

    /// <summary>Reads the fields of a value; checks their kinds, not their ranges (<see cref="ReadingCheck"/> does).</summary>
    public static Parsed<ReadingValue> ReadValue(JsonElement json, BenchTest test, ICollection<string> remarks)
    {
        ArgumentNullException.ThrowIfNull(test);
        ArgumentNullException.ThrowIfNull(remarks);
        var fields = new Dictionary<string, FieldValue>();
        return ReadFields(json, "", test, fields, remarks) is { } error ? error.Under("value") : new ReadingValue(fields);
    }

    private static InputError? ReadFields(
        JsonElement json, string prefix, BenchTest test, Dictionary<string, FieldValue> fields, ICollection<string> remarks)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            return new InputError(prefix.TrimEnd('.'), "must be an object in braces.");
        }

        foreach (var member in json.EnumerateObject())
        {
            var name = prefix + member.Name;
            if (test.Fields.FirstOrDefault(f => f.Name == name) is { } field)
            {
                var value = ReadField(member.Value, field);
                if (value.Error is { } error)
                {
                    return error;
                }

                fields[name] = value.Value;
            }
            else if (test.Fields.Any(f => f.Name.StartsWith(name + ".", StringComparison.Ordinal)))
            {
                if (ReadFields(member.Value, name + ".", test, fields, remarks) is { } error)
                {
                    return error;
                }
            }
            else
            {
                remarks.Add($"{test.Id}: the value '{name}' is not known and was passed over.");
            }
        }

        return null;
    }

    private static Parsed<FieldValue> ReadField(JsonElement json, TestField field)
    {
        if (json.ValueKind == JsonValueKind.Null)
        {
            return field.MayBeNull || field.Optional ? FieldValue.Null : new InputError(field.Name, $"{field.Label} is missing.");
        }

        if (field.Kind is FieldKind.Number or FieldKind.Cylinder)
        {
            return ReadNumbers(json, field);
        }

        if (json.ValueKind is JsonValueKind.True or JsonValueKind.False)
        {
            return FieldValue.Of(json.ValueKind == JsonValueKind.True ? "yes" : "no");
        }

        if (field.Kind == FieldKind.Text)
        {
            return FieldValue.Of(json.ValueKind == JsonValueKind.String ? json.GetString()! : json.GetRawText());
        }

        var texts = JsonInput.Texts(json, field.Name);
        return texts.Error is { } error ? error : new FieldValue { Texts = field.Kind == FieldKind.Codes ? [.. texts.Value.Select(TidyCode)] : texts.Value };
    }

    private static string TidyCode(string code) => code.Trim().ToUpperInvariant();

    private static Parsed<FieldValue> ReadNumbers(JsonElement json, TestField field)
    {
        if (json.ValueKind == JsonValueKind.Array)
        {
            var list = JsonInput.List(json, field.Name, JsonInput.Number);
            return list.Error is { } e ? e : new FieldValue { Numbers = list.Value };
        }

        var number = JsonInput.Number(json, field.Name);
        return number.Error is { } error ? error : FieldValue.Of(number.Value);
    }

    /// <summary>The place that <c>cylinder</c> or <c>bank</c> names; the engine where there is neither.</summary>
    internal static Parsed<Place> ReadPlace(JsonElement json)
    {
        var cylinder = JsonInput.Member(json, "cylinder");
        var bank = JsonInput.Member(json, "bank");
        if (cylinder is not null && bank is not null)
        {
            return new InputError("bank", "Give a cylinder or a bank, not both.");
        }

        if ((cylinder ?? bank) is not { } given)
        {
            return Place.Engine;
        }

        var name = cylinder is null ? "bank" : "cylinder";
        var number = JsonInput.Whole(given, name);
        if (number.Error is { } error)
        {
            return error;
        }

        return number.Value < 1
            ? new InputError(name, "must be 1 or more.")
            : cylinder is null ? Place.Bank(number.Value) : Place.Cylinder(number.Value);
    }

    private static Parsed<DateTimeOffset?> ReadTime(JsonElement json)
    {
        if (JsonInput.Member(json, "takenAt") is not { } taken)
        {
            return (DateTimeOffset?)null;
        }

        return taken.ValueKind == JsonValueKind.String
            && DateTimeOffset.TryParse(taken.GetString(), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var time)
            ? time
            : new InputError("takenAt", "must be a date and time such as 2026-03-14T09:30:00Z.");
    }

    private static JsonNode? Node(FieldValue value, TestField field) => (value.Numbers, value.Texts) switch
    {
        ({ IsEmpty: true }, { IsEmpty: true }) => field.Kind == FieldKind.Choices ? new JsonArray() : null,
        ({ Length: 1 }, _) when !field.Several => JsonValue.Create(value.Numbers[0]),
        ({ IsEmpty: false }, _) => new JsonArray([.. value.Numbers.Select(n => (JsonNode)JsonValue.Create(n))]),
        (_, { Length: 1 }) when field.Kind is FieldKind.Choice or FieldKind.Text => JsonValue.Create(value.Texts[0]),
        _ => new JsonArray([.. value.Texts.Select(t => (JsonNode)JsonValue.Create(t)!)]),
    };
}
