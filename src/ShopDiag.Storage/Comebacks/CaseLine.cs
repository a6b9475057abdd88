using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Json;

namespace ShopDiag.Storage.Comebacks;

/// <summary>
/// A case as it is kept: what does not depend on the labour rate, the time zone or the window. Whether the repair was checked is as the shop's height above sea level stood when the order last changed.
/// </summary>
internal readonly record struct KeptCase
{
    public required Guid OrderId { get; init; }

    public required Guid VehicleId { get; init; }

    /// <summary>When it was written up, in seconds since 1970, UTC.</summary>
    public required long CameIn { get; init; }

    /// <summary>When it was handed over; null while it is in the building.</summary>
    public long? HandedOver { get; init; }

    public int? Kilometres { get; init; }

    public required ImmutableArray<RepairedCause> Repaired { get; init; }

    public required string Technician { get; init; }

    public required string EngineFamily { get; init; }

    public required ImmutableArray<FittedPart> Parts { get; init; }

    public bool? ProofGiven { get; init; }

    public bool? RepairChecked { get; init; }

    public double? MinutesToProof { get; init; }

    public int? MinutesAuthorised { get; init; }

    /// <summary>Price of the diagnosis in minor units: minutes billed follow from it and the labour rate.</summary>
    public long? DiagnosisPriceMinor { get; init; }

    public int? MinutesSpent { get; init; }

    public Guid? ComebackOf { get; init; }

    public ComebackAnswer Answer { get; init; }
}

/// <summary>
/// Cases to lines of text and back: fields with a tab between them in the order in which they stand in <see cref="KeptCase"/>, nothing for what is not known. A reader keeps texts that stand in many lines
/// (a technician, a cause at its place, a part), so that each is made once.
/// </summary>
internal sealed class CaseLine
{
    private const char Between = '\t';

    // The separators of records and units that ASCII has for it.
    private const char BetweenParts = '\u001e';
    private const char InPart = '\u001f';

    private readonly Known<string> _texts = new(static t => t);
    private readonly Known<ImmutableArray<RepairedCause>> _repaired = new(static t => StorageJson.Read<ImmutableArray<RepairedCause>>(t));
    private readonly Known<FittedPart> _parts = new(Part);

    /// <summary>The line of a case.</summary>
    public static string Write(in KeptCase kept)
    {
        var line = new StringBuilder();
        Append(line, kept.OrderId.ToString("N"));
        Append(line, kept.VehicleId.ToString("N"));
        Append(line, kept.CameIn.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.HandedOver?.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.Kilometres?.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.Repaired.IsEmpty ? "" : StorageJson.Write(kept.Repaired));
        Append(line, Plain(kept.Technician));
        Append(line, Plain(kept.EngineFamily));
        Append(line, string.Join(BetweenParts, kept.Parts.Select(p => string.Join(InPart, Plain(p.Name), Plain(p.Maker), Plain(p.Vendor), p.WithoutProof ? "1" : "0"))));
        Append(line, Said(kept.ProofGiven));
        Append(line, Said(kept.RepairChecked));
        Append(line, kept.MinutesToProof?.ToString("R", CultureInfo.InvariantCulture));
        Append(line, kept.MinutesAuthorised?.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.DiagnosisPriceMinor?.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.MinutesSpent?.ToString(CultureInfo.InvariantCulture));
        Append(line, kept.ComebackOf?.ToString("N"));
        return line.Append(((int)kept.Answer).ToString(CultureInfo.InvariantCulture)).ToString();
    }

    /// <summary>The case of a line. Text that this program did not write throws <see cref="FormatException"/>.</summary>
    public KeptCase Read(string line)
    {
        var rest = line.AsSpan();
        return new()
        {
            OrderId = Guid.ParseExact(Next(ref rest), "N"),
            VehicleId = Guid.ParseExact(Next(ref rest), "N"),
            CameIn = long.Parse(Next(ref rest), CultureInfo.InvariantCulture),
            HandedOver = Number<long>(Next(ref rest)),
            Kilometres = Number<int>(Next(ref rest)),
            Repaired = Next(ref rest) is { IsEmpty: false } repaired ? _repaired[repaired] : [],
            Technician = _texts[Next(ref rest)],
            EngineFamily = _texts[Next(ref rest)],
            Parts = Parts(Next(ref rest)),
            ProofGiven = Said(Next(ref rest)),
            RepairChecked = Said(Next(ref rest)),
            MinutesToProof = Number<double>(Next(ref rest)),
            MinutesAuthorised = Number<int>(Next(ref rest)),
            DiagnosisPriceMinor = Number<long>(Next(ref rest)),
            MinutesSpent = Number<int>(Next(ref rest)),
            ComebackOf = Next(ref rest) is { IsEmpty: false } earlier ? Guid.ParseExact(earlier, "N") : null,
            Answer = (ComebackAnswer)int.Parse(rest, CultureInfo.InvariantCulture),
        };
    }

    private ImmutableArray<FittedPart> Parts(ReadOnlySpan<char> text)
    {
        if (text.IsEmpty)
        {
            return [];
        }

        var parts = ImmutableArray.CreateBuilder<FittedPart>(1);
        foreach (var part in text.Split(BetweenParts))
        {
            parts.Add(_parts[text[part]]);
        }

        return parts.DrainToImmutable();
    }

    private static FittedPart Part(string text) => text.Split(InPart) is [var name, var maker, var vendor, var unproven] ? new(name, maker, vendor, unproven == "1") : throw new FormatException($"'{text}' is no part.");

    private static ReadOnlySpan<char> Next(ref ReadOnlySpan<char> rest)
    {
        var end = rest.IndexOf(Between);
        var field = end < 0 ? throw new FormatException("The line of a case ends early.") : rest[..end];
        rest = rest[(end + 1)..];
        return field;
    }

    private static T? Number<T>(ReadOnlySpan<char> text)
        where T : struct, ISpanParsable<T> => text.IsEmpty ? null : T.Parse(text, CultureInfo.InvariantCulture);

    private static bool? Said(ReadOnlySpan<char> text) => text.IsEmpty ? null : text[0] == '1';

    private static string? Said(bool? value) => value switch { true => "1", false => "0", null => null };

    private static void Append(StringBuilder line, string? field) => line.Append(field).Append(Between);

    // Names come without control characters; were one there, it would tear the line.
    private static string Plain(string text) => text.Any(char.IsControl) ? string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c)) : text;

    /// <summary>Makes each text's value once.</summary>
    private sealed class Known<T>(Func<string, T> make)
    {
        private readonly Dictionary<string, T> _values = new(StringComparer.Ordinal);

        public T this[ReadOnlySpan<char> text]
        {
            get
            {
                var known = _values.GetAlternateLookup<ReadOnlySpan<char>>();
                return known.TryGetValue(text, out var value) ? value : _values[text.ToString()] = make(text.ToString());
            }
        }
    }
}
