using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Storage.Json;

/// <summary>
/// The values of a reading as they are kept: every field under its own name as a number, a text, a list of either, or null.
/// Needs no list of the test's fields, so a reading stays readable when its test is described differently one day.
/// Numbers come back exactly as they went in.
/// </summary>
internal static class ReadingValueJson
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>As JSON text. Throws <see cref="ArgumentException"/> for a number that is not finite.</summary>
    public static string Write(ReadingValue value)
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, Options))
        {
            writer.WriteStartObject();
            foreach (var (name, field) in value.Fields)
            {
                writer.WritePropertyName(name);
                Write(writer, field);
            }

            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer().AsSpan(0, (int)buffer.Length));
    }

    /// <summary>From what <see cref="Write(ReadingValue)"/> wrote.</summary>
    public static ReadingValue Read(string json)
    {
        using var document = JsonDocument.Parse(json);
        return new(document.RootElement.EnumerateObject().Select(p => KeyValuePair.Create(p.Name, Field(p.Value))));
    }

    private static void Write(Utf8JsonWriter writer, FieldValue field)
    {
        switch (field.Numbers.Length, field.Texts.Length)
        {
            case (0, 0):
                writer.WriteNullValue();
                break;
            case (1, 0):
                writer.WriteNumberValue(field.Numbers[0]);
                break;
            case (0, 1):
                writer.WriteStringValue(field.Texts[0]);
                break;
            default:
                WriteList(writer, field);
                break;
        }
    }

    /// <summary>Numbers first, then texts: the kinds tell them apart again.</summary>
    private static void WriteList(Utf8JsonWriter writer, FieldValue field)
    {
        writer.WriteStartArray();
        foreach (var number in field.Numbers)
        {
            writer.WriteNumberValue(number);
        }

        foreach (var text in field.Texts)
        {
            writer.WriteStringValue(text);
        }

        writer.WriteEndArray();
    }

    private static FieldValue Field(JsonElement json) => json.ValueKind switch
    {
        JsonValueKind.Null => FieldValue.Null,
        JsonValueKind.Array => Field(json.EnumerateArray()),
        JsonValueKind.Number or JsonValueKind.String => Field([json]),
        _ => throw new JsonException($"A field of a reading cannot be {json.ValueKind}."),
    };

    private static FieldValue Field(IEnumerable<JsonElement> values) => new()
    {
        Numbers = [.. values.Where(v => v.ValueKind == JsonValueKind.Number).Select(v => v.GetDouble())],
        Texts = [.. values.Where(v => v.ValueKind == JsonValueKind.String).Select(v => v.GetString()!)],
    };
}
