using System.Text.Encodings.Web;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Data;

/// <summary>Writes rows as lines of JSON (docs/data.md). The same rows give the same bytes.</summary>
internal static class RecordWriter
{
    /// <summary>The form that is written and read.</summary>
    public const int Form = 1;

    /// <summary>Name of what it is, in the first line.</summary>
    public const string What = "shopdiag-records";

    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The first line.</summary>
    public static void WriteHead(Stream lines, string schema) => WriteLine(lines, json =>
    {
        json.WriteString("what", What);
        json.WriteNumber("version", Form);
        json.WriteString("schema", schema);
    });

    /// <summary>The rows of a table, a line each.</summary>
    public static void WriteRows(Stream lines, SqliteConnection database, RecordTable table, string condition = "1", params (string Name, object? Value)[] parameters)
    {
        foreach (var row in database.Rows(table.Select(condition), parameters))
        {
            WriteLine(lines, json =>
            {
                json.WriteString("table", table.Name);
                json.WriteStartObject("row");
                for (var i = 0; i < row.Length; i++)
                {
                    json.WritePropertyName(table.Columns[i].Name);
                    WriteValue(json, table.Columns[i], row[i]);
                }

                json.WriteEndObject();
            });
        }
    }

    private static void WriteLine(Stream lines, Action<Utf8JsonWriter> members)
    {
        using (var json = new Utf8JsonWriter(lines, Options))
        {
            json.WriteStartObject();
            members(json);
            json.WriteEndObject();
        }

        lines.WriteByte((byte)'\n');
    }

    private static void WriteValue(Utf8JsonWriter json, RecordColumn column, object? value)
    {
        switch (value)
        {
            case null:
                json.WriteNullValue();
                break;
            case long number when column.IsBool:
                json.WriteBooleanValue(number != 0);
                break;
            case long number:
                json.WriteNumberValue(number);
                break;
            case double number:
                json.WriteNumberValue(number);
                break;
            // As the text stands, so that it comes back letter by letter.
            case string text when column.IsJson && text is ['{' or '[', ..] && !text.Contains('\n', StringComparison.Ordinal):
                json.WriteRawValue(text);
                break;
            case string text:
                json.WriteStringValue(text);
                break;
            case byte[] bytes:
                json.WriteStartObject();
                json.WriteBase64String("base64", bytes);
                json.WriteEndObject();
                break;
            default:
                throw new InvalidOperationException($"A column holds a {value.GetType().Name}.");
        }
    }
}
