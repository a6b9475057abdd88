using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>What is set before a balance run. Texts stand as typed; <see cref="Read"/> checks them.</summary>
public sealed class RunSetup
{
    /// <summary>A warm idle where nobody knows it better: common practice.</summary>
    private const string UsualIdle = "750";

    /// <summary>Begins with what is sensible for an engine: bank order, round twice, as the test's own instructions say.</summary>
    public RunSetup(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        Engine = engine;
        Methods = CancelMethod.For(engine);
        Method = Methods[0].Id;
        OrderText = Listed(firingOrder: false);
    }

    /// <summary>The engine.</summary>
    public Engine Engine { get; }

    /// <summary>The ways to cancel a cylinder on it.</summary>
    public ImmutableArray<CancelMethod> Methods { get; }

    /// <summary>The one chosen, by id.</summary>
    public string Method { get; set; }

    /// <summary>Cylinders in order, as typed.</summary>
    public string OrderText { get; set; }

    /// <summary>How often the engine is gone round.</summary>
    public int Rounds { get; set; } = 2;

    /// <summary>Seconds a cylinder is held off.</summary>
    public double Hold { get; set; } = 3;

    /// <summary>Seconds between two cylinders.</summary>
    public double Rest { get; set; } = 10;

    /// <summary>Rough speed, as typed.</summary>
    public string RoughText { get; set; } = UsualIdle;

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; set; }

    /// <summary>Short tones at each turn.</summary>
    public bool Tones { get; set; } = true;

    /// <summary>The cautions of the way chosen.</summary>
    public ImmutableArray<string> Cautions => Methods.First(m => m.Id == Method).Cautions;

    /// <summary>All cylinders in bank order or firing order, as text.</summary>
    public string Listed(bool firingOrder) =>
        string.Join(" ", EntryRound.Around(Engine, PlaceKind.Cylinder, firingOrder).Select(p => p.First.ToString(CultureInfo.InvariantCulture)));

    /// <summary>The order of one round; the error is meant for the person.</summary>
    public Parsed<ImmutableArray<int>> ReadOrder()
    {
        var order = ImmutableArray.CreateBuilder<int>();
        foreach (var part in OrderText.Split([' ', ',', '-', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (!int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var cylinder) || !Engine.Cylinders.Contains(cylinder))
            {
                return new InputError("order", $"“{part}” is no cylinder of this engine. It has {string.Join(", ", Engine.Cylinders)}.");
            }

            order.Add(cylinder);
        }

        return order.Count is > 0 and <= 2 * Engine.MaxCylinders ? order.ToImmutable() : new InputError("order", "List the cylinders in the order in which you cancel them, such as 1 2 3 4.");
    }

    /// <summary>The rough speed, or null for none; the error is meant for the person.</summary>
    public Parsed<double?> ReadRough()
    {
        if (string.IsNullOrWhiteSpace(RoughText))
        {
            return (double?)null;
        }

        var number = NumberText.Read(RoughText);
        return number is { IsValid: true, Value: >= EngineToHear.SlowestRpm and <= EngineToHear.FastestRpm }
            ? (double?)number.Value
            : new InputError("idle", $"Give the speed at which the engine runs during the test, {EngineToHear.SlowestRpm} to {EngineToHear.FastestRpm} rpm.");
    }

    /// <summary>The plan of the run; the error is meant for the person.</summary>
    public Parsed<RunPlan> Read(bool listens)
    {
        var order = ReadOrder();
        return order.Error is { } error
            ? error
            : new RunPlan { Order = [.. Enumerable.Repeat(order.Value, Math.Clamp(Rounds, 1, 3)).SelectMany(o => o)], HoldSeconds = Hold, RestSeconds = Rest, Listens = listens };
    }
}
