using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Vehicles;

/// <summary>What a vehicle identification number says about itself.</summary>
/// <param name="Text">The number in upper case without blanks and hyphens, otherwise as typed.</param>
/// <param name="ModelYear">The model year, or null where the number does not tell.</param>
/// <param name="Warnings">What looks wrong, in plain words; empty when nothing does. Warnings are never a reason to refuse a number.</param>
public sealed record VinCheck(string Text, int? ModelYear, ImmutableArray<string> Warnings);

/// <summary>
/// The vehicle identification number of 49 CFR 565: 17 characters without I, O and Q, a check digit in position 9 and the
/// model year in position 10. Check digit and year are rules of North America, so a deviation is warned of and never refused.
/// </summary>
public static class Vin
{
    private const int Length = 17;

    /// <summary>Years of position 10 from 1980 on; the row starts again in 2010.</summary>
    private const string YearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789";

    private const int FirstYear = 1980;
    private const int Cycle = 30;

    /// <summary>Weights of positions 1 to 17; the check digit itself weighs nothing.</summary>
    private static readonly int[] Weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

    /// <summary>Checks a number as typed. An empty one gives no warnings: a car may lack a number.</summary>
    /// <param name="text">The number as typed.</param>
    /// <param name="latestModelYear">The newest model year there can be today, if known; settles which cycle a year letter belongs to.</param>
    public static VinCheck Check(string? text, int? latestModelYear = null)
    {
        var vin = string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c) && c != '-')).ToUpperInvariant();
        if (vin.Length == 0)
        {
            return new(vin, null, []);
        }

        ImmutableArray<string> warnings = [.. Warnings(vin)];
        return new(vin, vin.Length == Length ? ModelYear(vin, latestModelYear) : null, warnings);
    }

    /// <summary>
    /// The check digit that belongs in position 9 of a number of 17 allowed characters (position 9 itself may hold anything): the weighted sum modulo 11,
    /// 10 written as X. Null when the number cannot have one.
    /// </summary>
    public static char? CheckDigit(string vin)
    {
        ArgumentNullException.ThrowIfNull(vin);
        if (vin.Length != Length)
        {
            return null;
        }

        var sum = 0;
        for (var i = 0; i < Length; i++)
        {
            if (Weights[i] == 0)
            {
                continue;
            }

            if (Value(vin[i]) is not { } value)
            {
                return null;
            }

            sum += value * Weights[i];
        }

        return (sum % 11) is 10 ? 'X' : (char)('0' + (sum % 11));
    }

    private static IEnumerable<string> Warnings(string vin)
    {
        if (vin.Length != Length)
        {
            yield return $"{vin.Length} characters; a VIN has 17 (cars from before 1981 may have fewer).";
        }

        foreach (var (letter, instead) in new[] { ('I', "1"), ('O', "0"), ('Q', "0") })
        {
            if (vin.Contains(letter))
            {
                yield return $"A VIN holds no {letter}; is it a {instead}?";
            }
        }

        if (vin.Any(c => !char.IsAsciiLetterUpper(c) && !char.IsAsciiDigit(c)))
        {
            yield return "A VIN holds letters and digits only.";
        }

        if (CheckDigit(vin) is { } digit && digit != vin[8])
        {
            yield return vin[0] is >= '1' and <= '5'
                ? $"The check digit in position 9 should be {digit} and is {vin[8]}: most likely a typing error."
                : $"The check digit in position 9 would be {digit} and is {vin[8]}: a typing error, or a car not made for North America.";
        }
    }

    /// <summary>
    /// Position 10 gives the year within 30; position 7 tells which 30: a letter from 2010 on, a digit before, on cars and light
    /// trucks (49 CFR 565.15(b)). A year later than there can be belongs to the cycle before: heavy trucks and other markets do not keep to position 7.
    /// </summary>
    private static int? ModelYear(string vin, int? latest)
    {
        var code = YearCodes.IndexOf(vin[9], StringComparison.Ordinal);
        if (code < 0)
        {
            return null;
        }

        var year = FirstYear + code + (char.IsAsciiLetterUpper(vin[6]) ? Cycle : 0);
        return year <= latest || latest is null ? year : year - Cycle >= FirstYear ? year - Cycle : null;
    }

    /// <summary>The number that a character counts for (49 CFR 565, table III), or null for one that is not allowed.</summary>
    private static int? Value(char c) => c switch
    {
        >= '0' and <= '9' => c - '0',
        'A' or 'J' => 1,
        'B' or 'K' or 'S' => 2,
        'C' or 'L' or 'T' => 3,
        'D' or 'M' or 'U' => 4,
        'E' or 'N' or 'V' => 5,
        'F' or 'W' => 6,
        'G' or 'P' or 'X' => 7,
        'H' or 'Y' => 8,
        'R' or 'Z' => 9,
        _ => null,
    };
}
