using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>An object as one line of JSON, letters of other languages and signs left as they are.</summary>
public static class JsonLine
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The object whose members are written by <paramref name="members"/>.</summary>
    public static string Of(Action<Utf8JsonWriter> members)
    {
        ArgumentNullException.ThrowIfNull(members);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartObject();
            members(json);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary><c>{"error":{"at":..,"message":..}}</c>.</summary>
    public static string Of(InputError error)
    {
        ArgumentNullException.ThrowIfNull(error);
        return Of(json =>
        {
            json.WriteStartObject("error");
            json.WriteString("at", error.At);
            json.WriteString("message", error.Message);
            json.WriteEndObject();
        });
    }
}
