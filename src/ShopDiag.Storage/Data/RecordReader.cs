using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Data;

/// <summary>Reads lines that <see cref="RecordWriter"/> wrote into a database. Throws <see cref="ShopDataException"/> that names the line; nothing is taken then.</summary>
internal sealed class RecordReader(SqliteConnection database)
{
    /// <summary>Longest line, bytes: far more than an order's longest text.</summary>
    private const int LongestLine = 16 * 1024 * 1024;

    private readonly Dictionary<string, HashSet<string>> _tables = [];

    /// <summary>What the first line says of the version of the database.</summary>
    public static string ReadHead(BoundedLines lines)
    {
        using var head = Parse(lines.Next() ?? throw Wrong(1, "it is empty."), 1);
        if (Text(head.RootElement, "what") != RecordWriter.What || !head.RootElement.TryGetProperty("version", out var version) || version.ValueKind != JsonValueKind.Number)
        {
            throw Wrong(1, "this is not what the verb export wrote.");
        }

        return version.TryGetInt32(out var form) && form is >= 1 and <= RecordWriter.Form && Text(head.RootElement, "schema") is { } schema
            ? schema
            : throw Wrong(1, "it was written by a newer ShopDiag. Use that version or a later one.");
    }

    /// <summary>A reader of lines with the bound of this form.</summary>
    public static BoundedLines Lines(Stream stream) => new(stream, LongestLine);

    /// <summary>Reads all rows, in one transaction. References are looked at when all are there.</summary>
    public void ReadRows(BoundedLines lines, CancellationToken cancel)
    {
        using var transaction = database.BeginTransaction();
        database.Execute("PRAGMA defer_foreign_keys = ON");
        while (lines.Next() is { } line)
        {
            cancel.ThrowIfCancellationRequested();
            using var parsed = Parse(line, lines.Number);
            Insert(parsed.RootElement, lines.Number);
        }

        try
        {
            transaction.Commit();
        }
        catch (SqliteException e) when (e.SqliteErrorCode == 19)
        {
            throw new ShopDataException("Some rows point at others that are not in the file. It is not whole.", e);
        }
    }

    private void Insert(JsonElement line, long number)
    {
        if (Text(line, "table") is not { } table || !line.TryGetProperty("row", out var row) || row.ValueKind != JsonValueKind.Object)
        {
            throw Wrong(number, "a line holds a table and a row.");
        }

        var columns = ColumnsOf(table, number);
        var members = row.EnumerateObject().ToList();
        if (members.Select(m => m.Name).FirstOrDefault(n => !columns.Contains(n)) is { } unknown)
        {
            throw Wrong(number, $"the table {table} has no column of the name “{Cut(unknown)}”.");
        }

        // The names are those of the database itself by now; the values go in as parameters.
        var names = string.Join(", ", members.Select(m => $"\"{m.Name}\""));
        var places = string.Join(", ", members.Select((_, i) => string.Create(CultureInfo.InvariantCulture, $"$p{i}")));
        try
        {
            database.Execute($"INSERT INTO \"{table}\" ({names}) VALUES ({places})", [.. members.Select((m, i) => (string.Create(CultureInfo.InvariantCulture, $"$p{i}"), Value(m.Value, number)))]);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 1 or 19 or 20)
        {
            throw Wrong(number, $"the row cannot be in the table {table}: {e.Message}", e);
        }
    }

    private HashSet<string> ColumnsOf(string table, long number)
    {
        if (_tables.Count == 0)
        {
            foreach (var row in database.Rows(
                // Neither virtual tables nor what lies behind them, which their own program writes.
                "SELECT t.name, c.name FROM pragma_table_list t, pragma_table_info(t.name) c WHERE t.schema = 'main' AND t.type = 'table' AND t.name NOT LIKE 'sqlite!_%' ESCAPE '!' AND t.name NOT LIKE '!_!_EF%' ESCAPE '!'"))
            {
                var name = (string)row[0]!;
                (_tables.TryGetValue(name, out var known) ? known : _tables[name] = []).Add((string)row[1]!);
            }
        }

        return _tables.GetValueOrDefault(table) ?? throw Wrong(number, $"there is no table of the name “{Cut(table)}” in this version.");
    }

    private static object? Value(JsonElement value, long line) => value.ValueKind switch
    {
        JsonValueKind.Null => null,
        JsonValueKind.True => 1L,
        JsonValueKind.False => 0L,
        JsonValueKind.Number when value.TryGetInt64(out var whole) => whole,
        JsonValueKind.Number => value.GetDouble() is var number && double.IsFinite(number) ? number : throw Wrong(line, "a number is too large."),
        JsonValueKind.String => value.GetString(),
        JsonValueKind.Object when Bytes(value) is { } bytes => bytes,
        JsonValueKind.Object or JsonValueKind.Array => value.GetRawText(),
        _ => throw Wrong(line, "a value is none that JSON knows."),
    };

    private static byte[]? Bytes(JsonElement value) =>
        value.EnumerateObject().Count() == 1 && value.TryGetProperty("base64", out var text) && text.ValueKind == JsonValueKind.String && text.TryGetBytesFromBase64(out var bytes) ? bytes : null;

    private static string? Text(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var text) && text.ValueKind == JsonValueKind.String ? text.GetString() : null;

    private static JsonDocument Parse(ReadOnlyMemory<byte> line, long number)
    {
        try
        {
            return JsonDocument.Parse(line);
        }
        catch (JsonException e)
        {
            throw Wrong(number, "it is no JSON.", e);
        }
    }

    private static string Cut(string text) => text.Length > 60 ? text[..60] + "…" : text;

    private static ShopDataException Wrong(long line, string what, Exception? inner = null) =>
        new(string.Create(CultureInfo.InvariantCulture, $"Line {line}: {what}"), inner!);
}
