using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>
/// What an order is found by: its words (number, name, titles of causes) and its keys (plate, VIN, codes, ids of causes, letters and digits only) in a full-text table that knows every three
/// signs in a row, so a part of a plate or a name is found by an index. Its rows are kept in step with the orders in the same transaction (<see cref="Writing.Summaries"/>).
/// </summary>
/// <remarks>
/// Two blanks stand before every word. One or two signs typed are too short for the index by themselves: with the blanks before them they are long enough,
/// and are looked for where a word begins.
/// </remarks>
internal static partial class OrderSearch
{
    private const string Begins = "  ";

    /// <summary>Signs that the index needs at least.</summary>
    private const int LeastSigns = 3;

    private static readonly string TroubleCodes = Knowledge.Shipped.CodesTest!.Id;

    /// <summary>
    /// What is asked of the full-text table: every word somewhere in the order, or the whole as a plate or VIN written apart. Null for a text without any.
    /// Whatever signs are typed stand in quotation marks, where none has a meaning of its own.
    /// </summary>
    public static string? Asks(string typed)
    {
        var words = SearchText.Fold(typed).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length == 0)
        {
            return null;
        }

        var every = string.Join(" AND ", words.Select(Either));
        return words.Length > 1 && SearchText.Key(typed) is { Length: > 0 } whole ? $"({every}) OR {Key(whole)}" : every;
    }

    /// <summary>The numbers of the newest orders that hold it.</summary>
    public static Task<List<int>> NumbersAsync(ShopDb db, string asks, int most, CancellationToken cancel) =>
        db.Database.SqlQuery<int>($"SELECT rowid AS Value FROM OrderSearch WHERE OrderSearch MATCH {asks} ORDER BY rowid DESC LIMIT {most}").ToListAsync(cancel);

    /// <summary>Writes what some orders are found by, where it has changed.</summary>
    public static async Task KeepAsync(ShopDb db, IReadOnlyCollection<Guid> orders, CancellationToken cancel)
    {
        foreach (var made in await TextsAsync(db, orders, cancel).ConfigureAwait(false))
        {
            var kept = await db.Database.SqlQuery<SearchLine>($"SELECT rowid AS Number, Words, Keys FROM OrderSearch WHERE rowid = {made.Number}").ToListAsync(cancel).ConfigureAwait(false);
            if (kept is not [var same] || same != made)
            {
                await db.Database.ExecuteSqlAsync($"INSERT OR REPLACE INTO OrderSearch (rowid, Words, Keys) VALUES ({made.Number}, {made.Words}, {made.Keys})", cancel).ConfigureAwait(false);
            }
        }
    }

    private static async Task<IEnumerable<SearchLine>> TextsAsync(ShopDb db, IReadOnlyCollection<Guid> orders, CancellationToken cancel)
    {
        var found = await db.Orders.Where(o => EF.Parameter(orders).Contains(o.Id)).Select(o => new
        {
            o.Id,
            o.Number,
            o.Customer!.Name,
            o.Vehicle!.Plate,
            o.Vehicle.Vin,
            o.ConcernCodes,
            Causes = o.Findings.OrderByDescending(f => f.Sequence).Select(f => f.Causes).FirstOrDefault(),
        }).ToListAsync(cancel).ConfigureAwait(false);
        var read = await db.Readings.Where(r => EF.Parameter(orders).Contains(r.OrderId) && r.Test == TroubleCodes && !r.Withdrawn && !db.Readings.Any(later => later.SupersedesId == r.Id))
            .Select(r => new { r.OrderId, r.ValueJson }).ToListAsync(cancel).ConfigureAwait(false);
        var codes = read.ToLookup(r => r.OrderId, r => r.ValueJson);
        return found.Select(o => new SearchLine
        {
            Number = o.Number,
            Words = Text([FormattableString.Invariant($"{o.Number}"), SearchText.Fold(o.Name), .. OrderMap.Words(o.Causes ?? "").Select(Title)]),
            Keys = Text([SearchText.Key(o.Plate), SearchText.Key(o.Vin), .. OrderMap.Words(o.ConcernCodes).Select(SearchText.Key), .. codes[o.Id].SelectMany(Codes), .. OrderMap.Words(o.Causes ?? "").Select(SearchText.Key)]),
        });
    }

    // The codes of a reading, not the names of its fields.
    private static IEnumerable<string> Codes(string valueJson) =>
        ReadingValueJson.Read(valueJson).Fields.Values.SelectMany(f => f.Texts).Select(SearchText.Key).Where(k => Code().IsMatch(k));

    // By its title people know a cause; by its id, links and files.
    private static string Title(string cause) => SearchText.Fold(Knowledge.Shipped.Cause(cause)?.Title ?? "");

    private static string Text(IEnumerable<string> parts) =>
        string.Concat(parts.SelectMany(p => p.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Distinct().Select(w => Begins + w));

    private static string Either(string word) => SearchText.Key(word) is { Length: > 0 } key ? $"(Words : {Quoted(word)} OR {Key(key)})" : $"Words : {Quoted(word)}";

    private static string Key(string key) => $"Keys : {Quoted(key)}";

    private static string Quoted(string text)
    {
        var signs = text.EnumerateRunes().Count() >= LeastSigns ? text : Begins + text;
        return $"\"{signs.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }

    [GeneratedRegex("^[pcbu][0-9a-f]{4,6}$", RegexOptions.CultureInvariant)]
    private static partial Regex Code();

    private sealed record SearchLine
    {
        public required int Number { get; init; }

        public required string Words { get; init; }

        public required string Keys { get; init; }
    }
}
