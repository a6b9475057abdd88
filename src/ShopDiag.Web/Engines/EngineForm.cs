using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Web.Engines;

/// <summary>An engine that no generic one fits, as it is typed: texts by field, and what is wrong with which.</summary>
public sealed class EngineForm
{
    /// <summary>Names of the fields, as <see cref="InputError.At"/> gives them.</summary>
    public const string Shape = "layout", Banks = "banks", FiringOrder = "firingOrder", Intervals = "firingIntervals", Ignition = "ignition", Injection = "injection", Hybrid = "hybrid", Title = "title";

    private readonly Dictionary<string, string> _texts = new(StringComparer.Ordinal)
    {
        [Shape] = "I", [Ignition] = nameof(Diagnosis.Engines.Ignition.CoilOnPlug), [Injection] = nameof(Diagnosis.Engines.Injection.Port),
    };

    /// <summary>The text of a field.</summary>
    public string this[string field]
    {
        get => _texts.GetValueOrDefault(field, "");
        set => _texts[field] = value;
    }

    /// <summary>The engine's name: as typed, or made from what it is.</summary>
    public string TitleOf(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return this[Title].Trim() is { Length: > 0 } typed ? typed : $"{engine.Spec.Layout}, {EngineWords.Dashed(engine.FiringOrder)}, {EngineWords.Systems(engine)}";
    }

    /// <summary>The engine, or the first thing wrong and the field it is in.</summary>
    public Parsed<Engine> Read()
    {
        var order = Numbers(this[FiringOrder]);
        if (order is null)
        {
            return new InputError(FiringOrder, "Write the cylinders in the order they fire, such as 1-3-4-2.");
        }

        var banks = this[Banks].Split(['/', ';', '|'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(Numbers).ToList();
        if (banks.Count == 0 || banks.Contains(null))
        {
            return new InputError(Banks, "Write the cylinders of each bank front to rear, banks parted by a stroke, such as 1 3 5 / 2 4 6.");
        }

        var intervals = ReadIntervals();
        if (intervals is null)
        {
            return new InputError(Intervals, "Write the degrees from each firing to the next, such as 150-90-150-90-150-90, or nothing when all are equal.");
        }

        return Engine.Create(new EngineSpec
        {
            Layout = this[Shape] + order.Value.Length.ToString(CultureInfo.InvariantCulture),
            Banks = [.. banks.Select(b => b!.Value)],
            FiringOrder = order.Value,
            FiringIntervals = intervals.Value,
            Ignition = Enum.Parse<Ignition>(this[Ignition]),
            Injection = Enum.Parse<Injection>(this[Injection]),
            Hybrid = this[Hybrid].Length > 0,
        });
    }

    private ImmutableArray<double>? ReadIntervals()
    {
        var parts = this[Intervals].Split(['-', ' ', ','], StringSplitOptions.RemoveEmptyEntries);
        var numbers = parts.Select(p => double.TryParse(p, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var n) ? n : double.NaN).ToImmutableArray();
        return numbers.Any(double.IsNaN) ? null : numbers;
    }

    private static ImmutableArray<int>? Numbers(string text)
    {
        var parts = text.Split(['-', ' ', ',', '.', '–'], StringSplitOptions.RemoveEmptyEntries);
        var numbers = parts.Select(p => int.TryParse(p, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0).ToImmutableArray();
        return numbers.Length == 0 || numbers.Contains(0) ? null : numbers;
    }
}
