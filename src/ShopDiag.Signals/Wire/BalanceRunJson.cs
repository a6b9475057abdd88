using System.Text.Json;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Wire;

/// <summary>A trace and its drops as one line of JSON: seconds to a thousandth, speeds to a tenth of a revolution a minute.</summary>
public static class BalanceRunJson
{
    /// <summary>
    /// <c>{"trace":[{"t":..,"rpm":..}],"drops":[{"start":..,"end":..,"baseRpm":..,"cancelledRpm":..,"drop":..,"standardError":..,"cylinder":..}],"usable":..,"reasons":[..]}</c>.
    /// A drop that cannot be given to a cylinder has null there; a fall that did not come back is no drop and stands among the reasons.
    /// </summary>
    public static string Write(SpeedTrace trace, BalanceRun run)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(run);
        return JsonLine.Of(json =>
        {
            json.WriteStartArray("trace");
            foreach (var point in trace.Points)
            {
                json.WriteStartObject();
                json.WriteNumber("t", Rounded(point.Seconds, 3));
                json.WriteNumber("rpm", Rounded(point.Rpm, 1));
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteStartArray("drops");
            foreach (var drop in run.Drops.Where(d => d.Kind != DropKind.Incomplete))
            {
                WriteDrop(json, drop);
            }

            json.WriteEndArray();
            json.WriteBoolean("usable", run.Usable);
            json.WriteStartArray("reasons");
            foreach (var reason in run.Reasons)
            {
                json.WriteStringValue(reason);
            }

            json.WriteEndArray();
        });
    }

    private static void WriteDrop(Utf8JsonWriter json, CancelledDrop drop)
    {
        var (before, without) = (Rounded(drop.BaseRpm, 1), Rounded(drop.CancelledRpm, 1));
        json.WriteStartObject();
        json.WriteNumber("start", Rounded(drop.Start, 3));
        json.WriteNumber("end", Rounded(drop.End, 3));
        json.WriteNumber("baseRpm", before);
        json.WriteNumber("cancelledRpm", without);

        // From the rounded speeds, so that the three agree for whoever subtracts.
        json.WriteNumber("drop", before - without);
        json.WriteNumber("standardError", Rounded(drop.StandardError, 1));
        if (drop.Cylinder is { } cylinder)
        {
            json.WriteNumber("cylinder", cylinder);
        }
        else
        {
            json.WriteNull("cylinder");
        }

        json.WriteEndObject();
    }

    private static decimal Rounded(double value, int decimals) => Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero);
}
