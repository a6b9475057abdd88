using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Engines;

/// <summary>One detail of the engine on an order that a person may set: the way to a bank, how its valves keep their play, a limit of the maker.</summary>
/// <param name="Name">Its name in the journal.</param>
/// <param name="Show">Its text; empty for the default.</param>
/// <param name="Put">The engine with another text in it, or why that cannot be.</param>
public sealed record EngineField(string Name, Func<EngineSpec, string> Show, Func<EngineSpec, string, Parsed<EngineSpec>> Put)
{
    /// <summary>Most minutes that getting at a bank can take.</summary>
    public const double MostMinutes = 1440;

    /// <summary>Key in the journal.</summary>
    public string Draft(Guid order) => $"order:{order}:engine:{Name}";

    /// <summary>Extra minutes to get at a bank.</summary>
    public static EngineField AccessTo(int bank) => new(
        $"access-{bank}",
        s => s.AccessMinutes.TryGetValue(bank, out var minutes) ? NumberText.Write(minutes, 0) : "",
        (s, t) => t.Trim().Length == 0
            ? s with { AccessMinutes = s.AccessMinutes.Remove(bank) }
            : Within(t, 0, MostMinutes, v => s with { AccessMinutes = s.AccessMinutes.SetItem(bank, v) }, "minutes"));

    /// <summary>How the play of the valves is kept.</summary>
    public static EngineField Lash { get; } = new(
        "lash",
        s => s.Lash.ToString(),
        (s, t) => Enum.TryParse<ValveLash>(t, out var lash) && Enum.IsDefined(lash) ? s with { Lash = lash } : new InputError("", "Pick one from the list."));

    /// <summary>A limit that the maker gives for this engine, in a unit of the shop.</summary>
    public static EngineField Of(Limit limit, ShopUnit unit)
    {
        ArgumentNullException.ThrowIfNull(limit);
        ArgumentNullException.ThrowIfNull(unit);
        return new(
            limit.Id,
            s => s.Limits.TryGetValue(limit.Id, out var own) ? NumberText.Write(unit.Show(own), unit.Decimals) : "",
            (s, t) => t.Trim().Length == 0
                ? s with { Limits = s.Limits.Remove(limit.Id) }
                : Within(t, unit.Show(limit.Min), unit.Show(limit.Max), v => s with { Limits = s.Limits.SetItem(limit.Id, unit.Read(v)) }, unit.Symbol));
    }

    /// <summary>Saves what was entered: over what was there when typing began, a conflict over anything else.</summary>
    public async Task<SaveResult> SaveAsync(OrderLive live, FieldEntry entry)
    {
        ArgumentNullException.ThrowIfNull(live);
        ArgumentNullException.ThrowIfNull(entry);
        var wanted = entry.Value.Trim();
        var result = await live.ChangeEngineAsync(spec =>
        {
            var current = Show(spec);
            var changed = Put(spec, entry.Value);
            wanted = changed.IsValid ? Show(changed.Value) : wanted;
            return changed.IsValid && entry.Base is not null && entry.Base != current && wanted != current
                ? new InputError("conflict", current)
                : changed;
        });
        return result switch
        {
            { Error: { At: "conflict" } conflict } => new(SaveOutcome.Conflict, conflict.Message, "Somebody else changed this meanwhile."),
            { Error: { } wrong } => new(SaveOutcome.Refused, entry.Base ?? "", wrong.Message),
            _ => result.Value with { Current = wanted },
        };
    }

    private static Parsed<EngineSpec> Within(string text, double min, double max, Func<double, EngineSpec> put, string unit)
    {
        var number = NumberText.Read(text);
        if (!number.IsValid)
        {
            return number.Error!;
        }

        return number.Value >= min && number.Value <= max
            ? put(number.Value)
            : new InputError("", string.Create(CultureInfo.InvariantCulture, $"From {NumberText.Write(min, 2)} to {NumberText.Write(max, 2)} {unit}, or nothing for the usual value.").Replace("  ", " ", StringComparison.Ordinal));
    }
}
