using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopDiag.Storage.Json;

/// <summary>How engines, findings and settings are written into text columns: the names of the wire format (<c>coil-on-plug</c>, <c>{"cylinder":4}</c>).</summary>
internal static class StorageJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        // The text never reaches a page as markup; escaping every letter beyond ASCII would only make it unreadable.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower), new PlaceConverter() },
    };

    /// <summary>As JSON text.</summary>
    public static string Write<T>(T value) => JsonSerializer.Serialize(value, Options);

    /// <summary>From JSON text. Text that this program did not write throws <see cref="JsonException"/>.</summary>
    public static T Read<T>(string json) =>
        JsonSerializer.Deserialize<T>(json, Options) ?? throw new JsonException($"A {typeof(T).Name} is written here as null.");
}
