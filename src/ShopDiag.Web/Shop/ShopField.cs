using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Shop;

/// <summary>One setting of the shop as a field that saves itself.</summary>
/// <param name="Name">Its name in the journal.</param>
/// <param name="Show">Its text.</param>
/// <param name="Put">The settings with another text in it, or why that cannot be.</param>
public sealed record ShopField(string Name, Func<ShopSettings, string> Show, Func<ShopSettings, string, Parsed<ShopSettings>> Put)
{
    /// <summary>Key in the journal.</summary>
    public string Draft => $"shop:settings:{Name}";

    /// <summary>Name on paper.</summary>
    public static ShopField ShopName { get; } = new("name", s => s.Name, (s, t) => s with { Name = t.Trim() });

    /// <summary>Address on paper.</summary>
    public static ShopField Address { get; } = new("address", s => s.Address, (s, t) => s with { Address = t.Trim() });

    /// <summary>Telephone on paper.</summary>
    public static ShopField Phone { get; } = new("phone", s => s.Phone, (s, t) => s with { Phone = t.Trim() });

    /// <summary>Units on screen and paper.</summary>
    public static ShopField UnitSystem { get; } = new("units", s => s.UnitSystem, (s, t) => s with { UnitSystem = t });

    /// <summary>Paper.</summary>
    public static ShopField Paper { get; } = new("paper", s => s.Paper, (s, t) => s with { Paper = t });

    /// <summary>Currency.</summary>
    public static ShopField Currency { get; } = new("currency", s => s.Currency, (s, t) => s with { Currency = t.Trim().ToUpperInvariant() });

    /// <summary>Labour rate an hour.</summary>
    public static ShopField Labour { get; } = new("labour", s => Amount(s.LabourPerHourMinor, s.Currency), PutLabour);

    /// <summary>Name of the tax.</summary>
    public static ShopField TaxName { get; } = Priced("tax-name", p => p.TaxName, (p, t) => t.Trim().Length == 0 ? new InputError("", "A name, such as Sales tax or VAT.") : p with { TaxName = t.Trim() });

    /// <summary>Tax on parts, percent.</summary>
    public static ShopField PartsTax { get; } = Percent("tax-parts", p => p.PartsTaxBasisPoints, (p, points) => p with { PartsTaxBasisPoints = points });

    /// <summary>Tax on labour, percent.</summary>
    public static ShopField LabourTax { get; } = Percent("tax-labour", p => p.LabourTaxBasisPoints, (p, points) => p with { LabourTaxBasisPoints = points });

    /// <summary>Tax on fees, percent.</summary>
    public static ShopField FeesTax { get; } = Percent("tax-fees", p => p.FeesTaxBasisPoints, (p, points) => p with { FeesTaxBasisPoints = points });

    /// <summary>Shop supplies, percent of the labour.</summary>
    public static ShopField Supplies { get; } = Percent("supplies", p => p.SuppliesBasisPoints, (p, points) => p with { SuppliesBasisPoints = points });

    /// <summary>Most that shop supplies come to.</summary>
    public static ShopField SuppliesMost { get; } = new("supplies-most", s => Amount(s.Pricing.SuppliesMostMinor, s.Currency), PutSuppliesMost);

    /// <summary>What stands above the signature: the template unless the shop has its own.</summary>
    public static ShopField Terms { get; } = Priced("terms", p => p.TermsInForce, (p, t) => p with { Terms = t.Trim() == ShopPricing.DefaultTerms ? "" : t.Trim() });

    /// <summary>What the shop stands for after the repair.</summary>
    public static ShopField Warranty { get; } = Priced("warranty", p => p.Warranty, (p, t) => p with { Warranty = t.Trim() });

    /// <summary>Whether the shop's own cases move the priors: <c>yes</c> or <c>no</c>.</summary>
    public static ShopField LearnFromCases { get; } = new("learn", s => s.LearnFromCases ? "yes" : "no", (s, t) => s with { LearnFromCases = t == "yes" });

    /// <summary>Hour of the nightly backup, 0 to 23.</summary>
    public static ShopField NightlyHour { get; } = Kept("nightly-hour", k => k.NightlyHour, (k, n) => k with { NightlyHour = n });

    /// <summary>Days of which a backup is kept.</summary>
    public static ShopField BackupDays { get; } = Kept("backup-days", k => k.BackupDays, (k, n) => k with { BackupDays = n });

    /// <summary>Weeks of which one is kept.</summary>
    public static ShopField BackupWeeks { get; } = Kept("backup-weeks", k => k.BackupWeeks, (k, n) => k with { BackupWeeks = n });

    /// <summary>Months of which one is kept.</summary>
    public static ShopField BackupMonths { get; } = Kept("backup-months", k => k.BackupMonths, (k, n) => k with { BackupMonths = n });

    /// <summary>Years after which customers are erased; empty for never.</summary>
    public static ShopField EraseAfterYears { get; } = new("erase-after", s => s.Keeping.EraseAfterYears?.ToString(CultureInfo.InvariantCulture) ?? "",
        (s, t) => t.Trim().Length == 0 ? s with { Keeping = s.Keeping with { EraseAfterYears = null } }
            : Whole(t) is { IsValid: true, Value: var years } ? s with { Keeping = s.Keeping with { EraseAfterYears = years } } : new InputError("", "A whole number of years, or nothing."));

    /// <summary>Height above sea level, in the shop's unit.</summary>
    public static ShopField Altitude { get; } = new("altitude", s => NumberText.Write(AltitudeUnit(s).Show(s.AltitudeMetres), 0), PutAltitude);

    /// <summary>Days from hand-over within which the same trouble is a comeback.</summary>
    public static ShopField ComebackDays { get; } = new("comeback-days", s => NumberText.Write(s.ComebackDays, 0), (s, t) =>
        Whole(t) is { IsValid: true, Value: >= 1 and <= 3650 and var days } ? s with { ComebackDays = days } : new InputError("", "A whole number of days, from 1 to 3650."));

    /// <summary>Distance since the repair within which it is one, in the shop's unit; empty for any.</summary>
    public static ShopField ComebackDistance { get; } = new("comeback-distance", s => s.ComebackKilometres is { } km ? NumberText.Write(DistanceUnit(s).Show(km), 0) : "", PutComebackDistance);
    /// <summary>Minutes after which a tablet of the shop locks.</summary>
    public static ShopField LockAfter { get; } = new("lock-after", s => s.LockAfterMinutes.ToString(CultureInfo.InvariantCulture), (s, t) =>
        int.TryParse(t.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var minutes) && minutes <= 240
            ? s with { LockAfterMinutes = minutes }
            : new InputError("", "A whole number of minutes from 1 to 240, or 0 for never."));

    /// <summary>How the height lowers the compression limits: <c>pressure</c> or <c>density</c>.</summary>
    public static ShopField AltitudeRule { get; } = new("altitude-rule", s => s.AltitudeRule == Diagnosis.Workups.AltitudeRule.DensityRatio ? "density" : "pressure",
        (s, t) => s with { AltitudeRule = t == "density" ? Diagnosis.Workups.AltitudeRule.DensityRatio : Diagnosis.Workups.AltitudeRule.PressureRatio });

    /// <summary>The unit of a quantity where it differs from the system's; empty for the system's.</summary>
    public static ShopField UnitOf(string quantity) => new($"unit-{quantity}", s => s.Units.GetValueOrDefault(quantity, ""),
        (s, t) => s with { Units = t.Length == 0 ? s.Units.Remove(quantity) : s.Units.SetItem(quantity, t) });

    /// <summary>The tools owned, out of all that the tests ask for.</summary>
    public static ShopField Tools(ImmutableArray<string> all) => new("tools",
        s => string.Join(", ", s.Tools.Contains("*") ? all : s.Tools),
        (s, t) => s with { Tools = Chosen(t) is var chosen && all.All(chosen.Contains) ? ["*"] : chosen });

    /// <summary>The unit that heights are shown in.</summary>
    public static ShopUnit AltitudeUnit(ShopSettings settings) => Quantity.All["altitude"].For(settings.UnitSystem, settings.Units);

    /// <summary>The unit that distances driven are shown in.</summary>
    public static ShopUnit DistanceUnit(ShopSettings settings) => Quantity.All["distance"].For(settings.UnitSystem, settings.Units);

    /// <summary>Saves what was entered: over what was there when typing began, a conflict over anything else.</summary>
    public async Task<SaveResult> SaveAsync(ShopStore shops, FieldEntry entry)
    {
        ArgumentNullException.ThrowIfNull(shops);
        ArgumentNullException.ThrowIfNull(entry);
        var settings = await shops.GetAsync() ?? new ShopSettings();
        var current = Show(settings);
        var changed = Put(settings, entry.Value);
        if (!changed.IsValid)
        {
            return new(SaveOutcome.Refused, current, changed.Error!.Message);
        }

        var wanted = Show(changed.Value);
        if (entry.Base is not null && entry.Base != current && wanted != current)
        {
            return new(SaveOutcome.Conflict, current, "Somebody else changed this meanwhile.");
        }

        try
        {
            await shops.SaveAsync(changed.Value);
        }
        catch (ArgumentException e) when (e.ParamName is not null)
        {
            return new(SaveOutcome.Refused, current, e.Message.Split(" (Parameter")[0]);
        }

        return new(SaveOutcome.Saved, wanted);
    }

    private static ShopField Priced(string name, Func<ShopPricing, string> show, Func<ShopPricing, string, Parsed<ShopPricing>> put) => new(name, s => show(s.Pricing), (s, t) =>
    {
        var pricing = put(s.Pricing, t);
        return pricing.IsValid ? s with { Pricing = pricing.Value } : pricing.Error!;
    });

    private static ShopField Percent(string name, Func<ShopPricing, int> show, Func<ShopPricing, int, ShopPricing> put) => Priced(name, p => LineFields.ShowPercent(show(p)), (p, t) =>
    {
        var points = LineFields.ReadPercent(t);
        return points.IsValid ? put(p, points.Value) : points.Error!;
    });

    private static ShopField Kept(string name, Func<Storage.Shop.Keeping, int> show, Func<Storage.Shop.Keeping, int, Storage.Shop.Keeping> put) => new(name, s => show(s.Keeping).ToString(CultureInfo.InvariantCulture),
        (s, t) => Whole(t) is { IsValid: true, Value: var number } ? s with { Keeping = put(s.Keeping, number) } : new InputError("", "A whole number."));

    private static string Amount(long minor, string currency) => minor == 0 ? "" : Money.Plain(minor, currency);

    private static Parsed<long> ReadAmount(string text, string currency) => text.Trim().Length == 0 ? 0 : Money.Read(text, currency);

    private static Parsed<ShopSettings> PutLabour(ShopSettings settings, string text)
    {
        var amount = ReadAmount(text, settings.Currency);
        return amount.IsValid ? settings with { LabourPerHourMinor = amount.Value } : amount.Error!;
    }

    private static Parsed<ShopSettings> PutSuppliesMost(ShopSettings settings, string text)
    {
        var amount = ReadAmount(text, settings.Currency);
        return amount.IsValid ? settings with { Pricing = settings.Pricing with { SuppliesMostMinor = amount.Value } } : amount.Error!;
    }

    private static Parsed<ShopSettings> PutComebackDistance(ShopSettings settings, string text)
    {
        if (text.Trim().Length == 0)
        {
            return settings with { ComebackKilometres = null };
        }

        var distance = Whole(text);
        if (!distance.IsValid)
        {
            return distance.Error!;
        }

        var kilometres = (int)Math.Round(Math.Min(DistanceUnit(settings).Read(distance.Value), int.MaxValue), MidpointRounding.AwayFromZero);
        return kilometres is >= 1 and <= 1_000_000 ? settings with { ComebackKilometres = kilometres } : new InputError("", "A distance above 0 that a car can go, or nothing for any distance.");
    }

    private static Parsed<int> Whole(string text) => NumberText.Read(text) is { IsValid: true, Value: >= 0 and <= int.MaxValue and var number } && number == Math.Floor(number)
        ? (int)number
        : new InputError("", "A whole number.");

    private static Parsed<ShopSettings> PutAltitude(ShopSettings settings, string text)
    {
        var height = NumberText.Read(text.Trim().Length == 0 ? "0" : text);
        if (!height.IsValid)
        {
            return height.Error!;
        }

        var metres = AltitudeUnit(settings).Read(height.Value);
        // From the shore of the Dead Sea to above the highest town on Earth.
        return metres is >= -450 and <= 5500 ? settings with { AltitudeMetres = metres } : new InputError("", "No road is at that height.");
    }

    private static ImmutableArray<string> Chosen(string text) =>
        [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
}
