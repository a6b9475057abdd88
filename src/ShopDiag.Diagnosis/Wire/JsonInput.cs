using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Reads members of a JSON object and says in plain words what is wrong where.</summary>
internal static class JsonInput
{
    /// <summary>The member, or null when it is absent or an explicit null.</summary>
    public static JsonElement? Member(JsonElement json, string name) =>
        json.TryGetProperty(name, out var member) && member.ValueKind != JsonValueKind.Null ? member : null;

    /// <summary>A text, or the fallback when absent.</summary>
    public static Parsed<string> Text(JsonElement json, string name, string fallback) => Member(json, name) switch
    {
        null => fallback,
        { ValueKind: JsonValueKind.String } text => text.GetString()!,
        _ => new InputError(name, "must be a text in quotes."),
    };

    /// <summary>A finite number.</summary>
    public static Parsed<double> Number(JsonElement json, string at) =>
        json.ValueKind == JsonValueKind.Number && json.TryGetDouble(out var number) && double.IsFinite(number)
            ? number
            : new InputError(at, "must be a number.");

    /// <summary>A whole number.</summary>
    public static Parsed<int> Whole(JsonElement json, string at) =>
        json.ValueKind == JsonValueKind.Number && json.TryGetInt32(out var number)
            ? number
            : new InputError(at, "must be a whole number.");

    /// <summary>A list of whole numbers.</summary>
    public static Parsed<ImmutableArray<int>> Wholes(JsonElement json, string at) => List(json, at, Whole);

    /// <summary>A list of texts; one text alone counts as a list of one.</summary>
    public static Parsed<ImmutableArray<string>> Texts(JsonElement json, string at) => json.ValueKind == JsonValueKind.String
        ? ImmutableArray.Create(json.GetString()!)
        : List<string>(json, at, (e, where) => e.ValueKind == JsonValueKind.String ? e.GetString()! : new InputError(where, "must be a text in quotes."));

    /// <summary>A list, read element by element.</summary>
    public static Parsed<ImmutableArray<T>> List<T>(JsonElement json, string at, Func<JsonElement, string, Parsed<T>> read)
    {
        if (json.ValueKind != JsonValueKind.Array)
        {
            return new InputError(at, "must be a list in square brackets.");
        }

        var list = ImmutableArray.CreateBuilder<T>();
        foreach (var element in json.EnumerateArray())
        {
            var item = read(element, string.Create(CultureInfo.InvariantCulture, $"{at}[{list.Count}]"));
            if (item.Error is { } error)
            {
                return error;
            }

            list.Add(item.Value);
        }

        return list.ToImmutable();
    }

    /// <summary>One of a list of words.</summary>
    public static Parsed<T> Word<T>(JsonElement json, string name, ImmutableArray<(string Word, T Value)> words)
    {
        var all = string.Join(", ", words.Select(w => w.Word));
        if (Member(json, name) is not { } member)
        {
            return new InputError(name, $"is missing. One of: {all}.");
        }

        var text = member.ValueKind == JsonValueKind.String ? member.GetString() : null;
        foreach (var (word, value) in words)
        {
            if (word == text)
            {
                return value;
            }
        }

        return new InputError(name, $"must be one of: {all}.");
    }

    /// <summary>The names of members that are not in the list.</summary>
    public static IEnumerable<string> Unknown(JsonElement json, params ReadOnlySpan<string> known)
    {
        var names = known.ToArray();
        return json.EnumerateObject().Select(m => m.Name).Where(n => !names.Contains(n)).ToArray();
    }
}
