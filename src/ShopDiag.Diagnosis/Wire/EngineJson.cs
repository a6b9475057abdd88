using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Engines as they travel.</summary>
public static class EngineJson
{
    /// <summary>Ignition ids as they travel.</summary>
    public static ImmutableArray<(string Word, Ignition Value)> Ignitions { get; } =
    [
        ("coil-on-plug", Ignition.CoilOnPlug), ("waste-spark", Ignition.WasteSpark),
        ("coil-near-plug", Ignition.CoilNearPlug), ("distributor", Ignition.Distributor),
    ];

    /// <summary>Injection ids as they travel.</summary>
    public static ImmutableArray<(string Word, Injection Value)> Injections { get; } =
        [("port", Injection.Port), ("direct", Injection.Direct), ("throttle-body", Injection.ThrottleBody)];

    /// <summary>Words for how the play of the valves is kept, as they travel; left out where it is not known.</summary>
    public static ImmutableArray<(string Word, ValveLash Value)> Lashes { get; } =
        [("unknown", ValveLash.Unknown), ("adjusted", ValveLash.Adjusted), ("hydraulic", ValveLash.Hydraulic)];

    /// <summary>Reads an engine. Banks that are not given are assumed by the layout's usual numbering, which a remark says.</summary>
    public static Parsed<Engine> Read(JsonElement json, Knowledge knowledge, ICollection<string> remarks)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        ArgumentNullException.ThrowIfNull(remarks);
        var spec = ReadSpec(json, remarks);
        if (spec.Error is { } error)
        {
            return error;
        }

        foreach (var (id, value) in spec.Value.Limits.OrderBy(l => l.Key, StringComparer.Ordinal))
        {
            if (!knowledge.Limits.TryGetValue(id, out var limit))
            {
                return new InputError($"limits.{id}", "There is no limit of this name.");
            }

            if (!(value >= limit.Min && value <= limit.Max))
            {
                return new InputError($"limits.{id}", string.Create(CultureInfo.InvariantCulture, $"must be from {limit.Min} to {limit.Max}."));
            }
        }

        return Engine.Create(spec.Value);
    }

    private static Parsed<EngineSpec> ReadSpec(JsonElement json, ICollection<string> remarks)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            return new InputError("", "must be an object in braces.");
        }

        var layout = JsonInput.Text(json, "layout", "");
        var ignition = JsonInput.Word(json, "ignition", Ignitions);
        var injection = JsonInput.Word(json, "injection", Injections);
        var lash = JsonInput.Member(json, "valveLash") is null ? ValveLash.Unknown : JsonInput.Word(json, "valveLash", Lashes);
        var order = JsonInput.Member(json, "firingOrder") is { } o ? JsonInput.Wholes(o, "firingOrder") : ImmutableArray<int>.Empty;
        var intervals = JsonInput.Member(json, "firingIntervals") is { } i ? JsonInput.List(i, "firingIntervals", JsonInput.Number) : ImmutableArray<double>.Empty;
        var banks = ReadBanks(json, layout, order, remarks);
        var access = Numbers(json, "accessMinutes");
        var limits = Numbers(json, "limits");
        if ((layout.Error ?? order.Error ?? ignition.Error ?? injection.Error ?? lash.Error ?? intervals.Error ?? banks.Error ?? access.Error ?? limits.Error) is { } error)
        {
            return error;
        }

        var byBank = ImmutableDictionary.CreateBuilder<int, double>();
        foreach (var (bank, minutes) in access.Value)
        {
            if (!int.TryParse(bank, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            {
                return new InputError($"accessMinutes.{bank}", "The name must be a bank's number, such as \"2\".");
            }

            byBank[number] = minutes;
        }

        return new EngineSpec
        {
            Layout = layout.Value,
            Banks = banks.Value,
            FiringOrder = order.Value,
            FiringIntervals = intervals.Value,
            Ignition = ignition.Value,
            Injection = injection.Value,
            Lash = lash.Value,
            AccessMinutes = byBank.ToImmutable(),
            Limits = limits.Value,
            Hybrid = JsonInput.Member(json, "hybrid") is { ValueKind: JsonValueKind.True },
        };
    }

    private static Parsed<ImmutableArray<ImmutableArray<int>>> ReadBanks(
        JsonElement json, Parsed<string> layout, Parsed<ImmutableArray<int>> order, ICollection<string> remarks)
    {
        if (JsonInput.Member(json, "banks") is { } banks)
        {
            return JsonInput.List(banks, "banks", JsonInput.Wholes);
        }

        if (!layout.IsValid || !order.IsValid || order.Value.IsEmpty)
        {
            return ImmutableArray<ImmutableArray<int>>.Empty;
        }

        var usual = UsualBanks(layout.Value, order.Value.Length);
        if (usual.Length > 1)
        {
            remarks.Add("The banks were not given; odd cylinders were taken to be on one bank and even ones on the other. Give \"banks\" if this engine is numbered otherwise.");
        }

        return usual;
    }

    // Inline engines have one bank. V and flat engines are assumed numbered odd and even; other layouts must say their banks.
    private static ImmutableArray<ImmutableArray<int>> UsualBanks(string layout, int cylinders) => layout.Length == 0 ? [] : layout[0] switch
    {
        'I' => [[.. Enumerable.Range(1, cylinders)]],
        'V' or 'H' => [[.. Enumerable.Range(1, cylinders).Where(c => c % 2 == 1)], [.. Enumerable.Range(1, cylinders).Where(c => c % 2 == 0)]],
        _ => [],
    };

    private static Parsed<ImmutableDictionary<string, double>> Numbers(JsonElement json, string name)
    {
        if (JsonInput.Member(json, name) is not { } member)
        {
            return ImmutableDictionary<string, double>.Empty;
        }

        if (member.ValueKind != JsonValueKind.Object)
        {
            return new InputError(name, "must be an object in braces.");
        }

        var numbers = ImmutableDictionary.CreateBuilder<string, double>(StringComparer.Ordinal);
        foreach (var entry in member.EnumerateObject())
        {
            var number = JsonInput.Number(entry.Value, $"{name}.{entry.Name}");
            if (number.Error is { } error)
            {
                return error;
            }

            numbers[entry.Name] = number.Value;
        }

        return numbers.ToImmutable();
    }
}
