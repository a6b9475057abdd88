using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Estimates;

/// <summary>What a draft is made from.</summary>
public sealed record DraftSource
{
    /// <summary>The order.</summary>
    public required Guid Order { get; init; }

    /// <summary>Its engine.</summary>
    public required Engine Engine { get; init; }

    /// <summary>The car and its engine in words, for prices that fit only some cars.</summary>
    public string Car { get; init; } = "";

    /// <summary>The causes found, each with its place.</summary>
    public required ImmutableArray<ProvenCause> Causes { get; init; }

    /// <summary>True when the finding was taken over without proof.</summary>
    public bool Unproven { get; init; }

    /// <summary>Price agreed for the diagnosis, minor units; null for none.</summary>
    public long? DiagnosisMinor { get; init; }

    /// <summary>Labour rate an hour, minor units; 0 while not set.</summary>
    public long LabourPerHourMinor { get; init; }
}

/// <summary>Makes the lines of an estimate from a finding, and keeps them in step with it until a person changes them.</summary>
public static class EstimateDraft
{
    /// <summary>Origin of the line that pays the diagnosis.</summary>
    public const string DiagnosisOrigin = "diagnosis";

    /// <summary>Origin of the line for shop supplies.</summary>
    public const string SuppliesOrigin = "supplies";

    /// <summary>
    /// The lines that a finding asks for: the diagnosis as agreed, for each cause its parts and its labour (access to a bank counted once), the fees that
    /// go on every order, shop supplies. A part or labour that the price list knows has its price or time from there.
    /// </summary>
    public static ImmutableArray<EstimateLine> Of(DraftSource source, Knowledge knowledge, PriceList prices, ShopPricing pricing)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(knowledge);
        ArgumentNullException.ThrowIfNull(prices);
        ArgumentNullException.ThrowIfNull(pricing);
        var lines = new List<EstimateLine>();
        if (source.DiagnosisMinor is { } agreed)
        {
            // A price for the whole, whatever the hours; taxed as the work it pays.
            lines.Add(Line(source, DiagnosisOrigin, LineKind.Fee, pricing) with { Text = "Diagnosis as agreed", PriceMinor = agreed, TaxBasisPoints = pricing.LabourTaxBasisPoints });
        }

        var causes = source.Causes.Select(c => (Cause: knowledge.Cause(c.Cause), c.At)).Where(c => c.Cause is not null).Select(c => (Cause: c.Cause!, c.At)).ToList();
        var minutesBefore = 0.0;
        for (var i = 0; i < causes.Count; i++)
        {
            var together = RepairPlan.For(source.Engine, causes[..(i + 1)]);
            lines.AddRange(RepairPlan.For(source.Engine, [causes[i]]).Parts.Select(p => Part(source, causes[i].Cause.Id, p, prices, pricing)));
            lines.Add(Labour(source, causes[i].Cause.Id, causes[i].At, together.LabourMinutes - minutesBefore, causes[i].Cause.Title, prices, pricing));
            minutesBefore = together.LabourMinutes;
        }

        if (causes.Count > 0)
        {
            lines.AddRange(prices.OnEveryOrder.Select(fee => Line(source, $"fee:{fee.Name}", LineKind.Fee, pricing) with { Text = fee.Name, PriceMinor = fee.PriceMinor }));
            lines.Add(Line(source, SuppliesOrigin, LineKind.Fee, pricing) with { Text = "Shop supplies", PriceMinor = 0 });
        }

        // A part that two causes ask for at one place is fitted once.
        return WithSupplies([.. lines.DistinctBy(l => l.Origin)], pricing);
    }

    /// <summary>
    /// Brings the lines on an order in step with a new draft: what a person entered or changed stays, what the finding no longer asks for goes, what
    /// it asks for anew comes at the end. A line taken off by a person stays off.
    /// </summary>
    public static ImmutableArray<EstimateLine> Merge(ImmutableArray<EstimateLine> present, ImmutableArray<EstimateLine> drafted, ShopPricing pricing)
    {
        var wanted = drafted.ToDictionary(l => l.Id);
        var kept = present.Where(l => l.Origin.Length == 0 || l.Edited || wanted.ContainsKey(l.Id))
            .Select(l => l.Edited || !wanted.TryGetValue(l.Id, out var draft) ? Proved(l, wanted) : draft with { Removed = l.Removed, GoAhead = l.GoAhead, Choice = l.Choice });
        var known = present.Select(l => l.Id).ToHashSet();
        return WithSupplies([.. kept, .. drafted.Where(l => !known.Contains(l.Id))], pricing);
    }

    /// <summary>The lines with shop supplies worked out anew, unless a person set them: a share of the labour that counts and is needed now.</summary>
    public static ImmutableArray<EstimateLine> WithSupplies(ImmutableArray<EstimateLine> lines, ShopPricing pricing)
    {
        ArgumentNullException.ThrowIfNull(pricing);
        var labour = lines.Where(l => l is { Counts: true, Kind: LineKind.Labour, Choice: LineChoice.Needed }).Select(LineAmounts.Of).Sum(a => a.Gross - a.Discount);
        var share = Rounding.Share(labour, pricing.SuppliesBasisPoints);
        var supplies = pricing.SuppliesMostMinor > 0 ? Math.Min(share, pricing.SuppliesMostMinor) : share;
        return [.. lines.Where(l => l.Origin != SuppliesOrigin || l.Edited || supplies > 0 || pricing.SuppliesBasisPoints > 0)
            .Select(l => l.Origin == SuppliesOrigin && !l.Edited ? l with { PriceMinor = supplies } : l)];
    }

    // Somebody changed the price of an unproven part: proof found meanwhile still sets it free.
    private static EstimateLine Proved(EstimateLine line, Dictionary<Guid, EstimateLine> wanted) =>
        wanted.TryGetValue(line.Id, out var draft) ? line with { Unproven = draft.Unproven } : line;

    private static EstimateLine Part(DraftSource source, string cause, RepairPart part, PriceList prices, ShopPricing pricing)
    {
        var price = prices.Find(LineKind.Part, part.Part, source.Car);
        return Line(source, string.Create(CultureInfo.InvariantCulture, $"part:{part.Part}@{part.At}"), LineKind.Part, pricing) with
        {
            Text = part.Part,
            Thousandths = part.Quantity * 1000L,
            PriceMinor = price?.PriceMinor,
            CoreMinor = price?.CoreMinor ?? 0,
            Position = part.At.Kind == PlaceKind.Engine ? "" : part.At.ToString(),
            MustMatch = part.MustMatch,
            Together = part.Together,
            Cause = cause,
            Unproven = source.Unproven,
            Vendor = price?.Vendor ?? "",
            Maker = price?.Maker ?? "",
            PartNumber = price?.PartNumber ?? "",
        };
    }

    private static EstimateLine Labour(DraftSource source, string cause, Place at, double minutes, string title, PriceList prices, ShopPricing pricing)
    {
        var own = prices.Find(LineKind.Labour, title, source.Car);
        var hours = Math.Round((own?.Minutes ?? minutes) * 1000 / 60, MidpointRounding.AwayFromZero);
        var where = at.Kind == PlaceKind.Engine ? "" : $", {at}";
        return Line(source, string.Create(CultureInfo.InvariantCulture, $"labour:{cause}@{at}"), LineKind.Labour, pricing) with
        {
            Text = $"Labour: {LowerFirst(title)}{where}",
            Thousandths = (long)hours,
            PriceMinor = own?.PriceMinor ?? (source.LabourPerHourMinor == 0 ? null : source.LabourPerHourMinor),
            Cause = cause,
            Unproven = source.Unproven,
        };
    }

    private static EstimateLine Line(DraftSource source, string origin, LineKind kind, ShopPricing pricing) =>
        new() { Id = LineKeys.Of(source.Order, origin), Kind = kind, Origin = origin, TaxBasisPoints = pricing.TaxOn(kind) };

    private static string LowerFirst(string text) => text.Length == 0 || (text.Length > 1 && char.IsUpper(text[1])) ? text : char.ToLowerInvariant(text[0]) + text[1..];
}
