using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Engines;

/// <summary>A way to cancel one cylinder on a running engine, with what to watch out for.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Title">In the trade's words.</param>
/// <param name="How">What to do, a sentence or two.</param>
/// <param name="Cautions">What can hurt or harm.</param>
public sealed record CancelMethod(string Id, string Title, string How, ImmutableArray<string> Cautions)
{
    private const string Time = "Keep each cancellation short, a few seconds, and let the engine recover between: unburnt fuel overheats the catalyst.";
    private const string Spark = "Ignition voltage can injure or kill; nobody with a pacemaker works near a running ignition system.";
    private const string Moving = "The engine runs: keep clear of belts, fans and hot parts.";

    /// <summary>
    /// The ways that suit an engine, gentlest on the catalyst first. A live plug lead is never pulled by hand.
    /// Source: common practice; Cerullo, Motor 161(2), 1984 and makers' balance tests cut fuel rather than spark where they can.
    /// </summary>
    public static ImmutableArray<CancelMethod> For(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        var ways = ImmutableArray.CreateBuilder<CancelMethod>();
        ways.Add(new("command", "Scan tool command", "Command the cylinder off with a scan tool that can do it.", [Time, Moving]));
        if (engine.Injection == Injection.Port)
        {
            ways.Add(new("unplug-injector", "Unplug the injector",
                "With the engine running, unplug the injector's connector, read, and plug it in again. Spares the catalyst.",
                ["Do not disturb the fuel line.", Moving]));
        }

        switch (engine.Ignition)
        {
            case Ignition.CoilOnPlug:
                ways.Add(new("unplug-coil", "Unplug the coil's low-voltage connector",
                    "Unplug the small connector of the coil, read, and plug it in again. Leave the coil seated on its plug.", [Time, Spark, Moving]));
                break;
            case Ignition.WasteSpark or Ignition.CoilNearPlug or Ignition.Distributor:
                ways.Add(new("short-lead", "Ground the lead at the coil tower",
                    "Engine off: fit a short piece of conductive spring or hose between tower and lead. Engine running: touch it with a grounded test light to short that cylinder.",
                    ["Never pull a live plug lead by hand.", Time, Spark, Moving]));
                break;
            default:
                throw new InvalidOperationException($"Unknown ignition {engine.Ignition}.");
        }

        if (engine.Spec.Hybrid)
        {
            var hybrid = "Hybrid: the engine can start and stop by itself. Follow the maker's way to hold it running; orange cables carry lethal voltage.";
            return [.. ways.Select(w => w with { Cautions = w.Cautions.Add(hybrid) })];
        }

        return ways.ToImmutable();
    }
}
