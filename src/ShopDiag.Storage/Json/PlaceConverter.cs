using System.Text.Json;
using System.Text.Json.Serialization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Storage.Json;

/// <summary>Places as they stand in answers: <c>{"cylinder":4}</c>, <c>{"pair":[4,6]}</c>, <c>{"bank":2}</c>, <c>{"engine":true}</c>.</summary>
internal sealed class PlaceConverter : JsonConverter<Place>
{
    /// <inheritdoc/>
    public override Place Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        using var document = JsonDocument.ParseValue(ref reader);
        var only = document.RootElement.EnumerateObject().Single();
        return only.Name switch
        {
            "engine" => Place.Engine,
            "bank" => Place.Bank(only.Value.GetInt32()),
            "pair" => Place.Pair(only.Value[0].GetInt32(), only.Value[1].GetInt32()),
            "cylinder" => Place.Cylinder(only.Value.GetInt32()),
            _ => throw new JsonException($"'{only.Name}' is no kind of place."),
        };
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, Place value, JsonSerializerOptions options)
    {
        writer.WriteStartObject();
        switch (value.Kind)
        {
            case PlaceKind.Engine:
                writer.WriteBoolean("engine", true);
                break;
            case PlaceKind.Bank:
                writer.WriteNumber("bank", value.First);
                break;
            case PlaceKind.Pair:
                writer.WriteStartArray("pair");
                writer.WriteNumberValue(value.First);
                writer.WriteNumberValue(value.Second);
                writer.WriteEndArray();
                break;
            case PlaceKind.Cylinder:
                writer.WriteNumber("cylinder", value.First);
                break;
            default:
                throw new InvalidOperationException($"Unknown kind of place {value.Kind}.");
        }

        writer.WriteEndObject();
    }
}
