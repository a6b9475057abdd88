using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using ShopDiag.Diagnosis;

namespace ShopDiag.Estimates;

/// <summary>What a file of prices came to.</summary>
/// <param name="Entries">The rows that could be read; of two rows with one key the later.</param>
/// <param name="Refused">The rows that could not: <see cref="InputError.At"/> is the line of the file.</param>
public sealed record PriceImport(ImmutableArray<PriceEntry> Entries, ImmutableArray<InputError> Refused);

/// <summary>
/// The shop's list as a CSV file (RFC 4180) with the columns kind, name, for, price, core, minutes, vendor, maker, part number, every order. Columns
/// may stand in any order and all but kind and name may be missing. Amounts are written with a point before the decimals.
/// </summary>
public static class PriceCsv
{
    /// <summary>Most rows of one file.</summary>
    public const int MostRows = 100_000;

    /// <summary>Reads a file. A row that cannot be read is named and the rest goes in; a file without the two needed columns is one refusal.</summary>
    public static PriceImport Read(TextReader text, string currency)
    {
        ArgumentNullException.ThrowIfNull(text);
        var whole = text.ReadToEnd().TrimStart('\uFEFF');
        var settings = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = Separator(whole),
            PrepareHeaderForMatch = header => (header.Header ?? "").Trim().ToLowerInvariant().Replace('_', ' '),
            MissingFieldFound = null,
            BadDataFound = null,
            TrimOptions = TrimOptions.Trim,
            MaxFieldSize = 10_000,
        };
        using var csv = new CsvReader(new StringReader(whole), settings);
        var (entries, refused) = (new Dictionary<string, PriceEntry>(StringComparer.Ordinal), new List<InputError>());
        try
        {
            if (!csv.Read() || !csv.ReadHeader() || !Has(csv, "kind") || !Has(csv, "name"))
            {
                return new([], [new("line 1", $"The first line names the columns; kind and name must be among them. All columns: {string.Join(", ", PriceText.Columns)}.")]);
            }

            while (csv.Read())
            {
                if (entries.Count + refused.Count >= MostRows)
                {
                    refused.Add(new(Line(csv), $"A list has at most {MostRows} rows. This one and what follows was left out."));
                    break;
                }

                var entry = PriceText.Read(column => Cell(csv, column), currency);
                if (entry.IsValid)
                {
                    entries[entry.Value.Key] = entry.Value;
                }
                else
                {
                    refused.Add(entry.Error! with { At = Line(csv) });
                }
            }
        }
        catch (CsvHelperException e)
        {
            refused.Add(new(Line(csv), e is MaxFieldSizeException ? "A cell is longer than 10,000 letters. This row and what follows was left out." : "The file cannot be read from here on; save it as CSV again."));
        }

        return new([.. entries.Values], [.. refused]);
    }

    /// <summary>Writes the list. A cell that a spreadsheet would take for a formula gets an apostrophe in front, which <see cref="Read"/> takes off again.</summary>
    public static void Write(TextWriter text, PriceList list, string currency)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(list);
        var settings = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            NewLine = "\r\n",
            InjectionOptions = InjectionOptions.Escape,
            // The library asks only for the line end that it writes; a lone line feed in a cell would tear the row.
            ShouldQuote = cell => (cell.Field ?? "").Any(c => c is ',' or ';' or '"' or '\r' or '\n' or '\t'),
        };
        using var csv = new CsvWriter(text, settings, leaveOpen: true);
        foreach (var column in PriceText.Columns)
        {
            csv.WriteField(column);
        }

        csv.NextRecord();
        foreach (var texts in list.Entries.Select(e => PriceText.Show(e, currency)))
        {
            foreach (var column in PriceText.Columns)
            {
                csv.WriteField(texts[column]);
            }

            csv.NextRecord();
        }
    }

    // By the names of the columns, which hold no separator themselves; cells do.
    private static string Separator(string whole)
    {
        var header = whole.AsSpan(0, Math.Max(0, whole.AsSpan().IndexOfAny('\r', '\n')));
        return header.Count(';') > header.Count(',') ? ";" : header.Count('\t') > header.Count(',') ? "\t" : ",";
    }

    private static bool Has(CsvReader csv, string column) => csv.GetFieldIndex(column, isTryGet: true) >= 0;

    private static string Line(CsvReader csv) => string.Create(CultureInfo.InvariantCulture, $"line {csv.Parser.RawRow}");

    private static string Cell(CsvReader csv, string column)
    {
        var cell = Has(csv, column) ? csv.GetField(column)?.Trim() ?? "" : "";
        // The apostrophe of Write, and of spreadsheets that keep it.
        return cell.Length > 1 && cell[0] == '\'' && cell[1] is '=' or '+' or '-' or '@' or '\t' or '\r' ? cell[1..] : cell;
    }
}
