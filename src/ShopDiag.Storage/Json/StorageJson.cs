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

    private static readonly JsonSerializerOptions Strict = new(Options) { UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow };

    /// <summary>As JSON text.</summary>
    public static string Write<T>(T value) => JsonSerializer.Serialize(value, Options);

    /// <summary>From JSON text. Text that this program did not write throws <see cref="JsonException"/>.</summary>
    public static T Read<T>(string json) => Read<T>(json, Options);

    /// <summary>The same for text written by hand: a name that is not known is an error and not passed over.</summary>
    public static T ReadStrictly<T>(string json) => Read<T>(json, Strict);

    private static T Read<T>(string json, JsonSerializerOptions options) =>
        JsonSerializer.Deserialize<T>(json, options) ?? throw new JsonException($"A {typeof(T).Name} is written here as null.");
}
