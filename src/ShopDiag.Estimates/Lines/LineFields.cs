using System.Globalization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Estimates;

/// <summary>What can be changed on a line.</summary>
public enum LineField
{
    /// <summary>What it is.</summary>
    Text,

    /// <summary>Needed or Advised.</summary>
    Choice,

    /// <summary>Pieces, or hours.</summary>
    Quantity,

    /// <summary>Price of one piece or hour.</summary>
    Price,

    /// <summary>Discount in percent.</summary>
    Discount,

    /// <summary>Tax in percent.</summary>
    Tax,

    /// <summary>Deposit on the old part.</summary>
    Core,

    /// <summary>Where on the engine.</summary>
    Position,

    /// <summary>What must match.</summary>
    MustMatch,

    /// <summary>Who sells it.</summary>
    Vendor,

    /// <summary>Who makes it.</summary>
    Maker,

    /// <summary>The maker's number.</summary>
    PartNumber,
}

/// <summary>The fields of a line as people read and write them.</summary>
public static class LineFields
{
    private const int MostLetters = 200;

    /// <summary>The text that stands for the value.</summary>
    public static string Show(EstimateLine line, LineField field, string currency)
    {
        ArgumentNullException.ThrowIfNull(line);
        return field switch
        {
            LineField.Text => line.Text,
            LineField.Choice => line.Choice.ToString(),
            LineField.Quantity => Decimal(line.Thousandths / 1000m),
            LineField.Price => line.PriceMinor is { } price ? Money.Plain(price, currency) : "",
            LineField.Discount => ShowPercent(line.DiscountBasisPoints),
            LineField.Tax => ShowPercent(line.TaxBasisPoints),
            LineField.Core => line.CoreMinor == 0 ? "" : Money.Plain(line.CoreMinor, currency),
            LineField.Position => line.Position,
            LineField.MustMatch => line.MustMatch,
            LineField.Vendor => line.Vendor,
            LineField.Maker => line.Maker,
            LineField.PartNumber => line.PartNumber,
            _ => throw new ArgumentOutOfRangeException(nameof(field), field, "No such field."),
        };
    }

    /// <summary>The line with another value in a field, or why that cannot be.</summary>
    public static Parsed<EstimateLine> Put(EstimateLine line, LineField field, string text, string currency)
    {
        ArgumentNullException.ThrowIfNull(line);
        ArgumentNullException.ThrowIfNull(text);
        var typed = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return field switch
        {
            LineField.Text => typed.Length == 0 ? new InputError("", "A line says what it is for.") : Words(typed, t => line with { Text = t }),
            LineField.Choice => Enum.TryParse<LineChoice>(typed, out var choice) && Enum.IsDefined(choice) ? line with { Choice = choice } : new InputError("", "Needed or Advised."),
            LineField.Quantity => Quantity(typed, line),
            LineField.Price => Amount(typed, currency, line with { PriceMinor = null }, minor => line with { PriceMinor = minor }),
            LineField.Discount => Percent(typed, points => line with { DiscountBasisPoints = points }),
            LineField.Tax => Percent(typed, points => line with { TaxBasisPoints = points }),
            LineField.Core => Amount(typed, currency, line with { CoreMinor = 0 }, minor => line with { CoreMinor = minor }),
            LineField.Position => Words(typed, t => line with { Position = t }),
            LineField.MustMatch => Words(typed, t => line with { MustMatch = t }),
            LineField.Vendor => Words(typed, t => line with { Vendor = t }),
            LineField.Maker => Words(typed, t => line with { Maker = t }),
            LineField.PartNumber => Words(typed, t => line with { PartNumber = t }),
            _ => throw new ArgumentOutOfRangeException(nameof(field), field, "No such field."),
        };
    }

    /// <summary>Reads a percentage with up to two decimals into basis points; nothing is 0.</summary>
    public static Parsed<int> ReadPercent(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var typed = text.Trim().TrimEnd('%').TrimEnd();
        if (typed.Length == 0)
        {
            return 0;
        }

        return decimal.TryParse(typed, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var percent) && percent is >= 0 and <= 100 && percent * 100 == decimal.Truncate(percent * 100)
            ? (int)(percent * 100)
            : new InputError("", $"“{typed}” is no percentage: from 0 to 100 with at most two decimals, such as 8.25.");
    }

    /// <summary>A percentage as <see cref="ReadPercent"/> reads it, without the sign; nothing for 0.</summary>
    public static string ShowPercent(int basisPoints) => basisPoints == 0 ? "" : Decimal(basisPoints / 100m);

    private static Parsed<EstimateLine> Words(string typed, Func<string, EstimateLine> put) =>
        typed.Length <= MostLetters ? put(typed) : new InputError("", $"At most {MostLetters} letters.");

    private static Parsed<EstimateLine> Quantity(string typed, EstimateLine line)
    {
        var decimals = line.Kind == LineKind.Labour ? 3 : 0;
        return decimal.TryParse(typed, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var quantity) && quantity is >= 0 and <= 10_000 && decimal.Round(quantity, decimals) == quantity
            ? line with { Thousandths = (long)(quantity * 1000) }
            : new InputError("", decimals == 0 ? "A whole number of pieces from 0 to 10000." : "Hours from 0 to 10000 with at most three decimals, such as 0.5.");
    }

    private static Parsed<EstimateLine> Amount(string typed, string currency, EstimateLine none, Func<long, EstimateLine> put)
    {
        if (typed.Length == 0)
        {
            return none;
        }

        var amount = Money.Read(typed, currency);
        return amount.IsValid ? put(amount.Value) : amount.Error!;
    }

    private static Parsed<EstimateLine> Percent(string typed, Func<int, EstimateLine> put)
    {
        var points = ReadPercent(typed);
        return points.IsValid ? put(points.Value) : points.Error!;
    }

    private static string Decimal(decimal number) => number.ToString("0.###", CultureInfo.InvariantCulture);
}
