using System.Text.Json;
using ShopDiag.Obd.Codes;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Wire;

/// <summary>What records and the summary of a log both hold.</summary>
internal static class PartsJson
{
    public static void Values(Utf8JsonWriter json, string name, IEnumerable<ObdValue> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
        {
            json.WriteStartObject();
            json.WriteString("pid", MessageDecoder.Two(value.Pid));
            json.WriteString("name", value.Item.Key);
            if (value.Number is { } number)
            {
                json.WriteNumber("value", Rounded(number));
            }
            else
            {
                json.WriteString("value", value.Words);
            }

            if (value.Item.Unit.Length > 0)
            {
                json.WriteString("unit", value.Item.Unit);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    public static void Monitors(Utf8JsonWriter json, MonitorStatus status)
    {
        json.WriteString("of", status.ThisCycle ? "this-cycle" : "since-clear");
        if (!status.ThisCycle)
        {
            json.WriteBoolean("lampOn", status.LampOn);
            json.WriteNumber("codeCount", status.CodeCount);
        }

        json.WriteString("ignition", status.CompressionIgnition ? "compression" : "spark");
        json.WriteStartArray("monitors");
        foreach (var monitor in status.Monitors.Where(m => m.Supported))
        {
            json.WriteStartObject();
            json.WriteString("name", monitor.Name);
            json.WriteBoolean("complete", monitor.Complete);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    public static void Test(Utf8JsonWriter json, MonitorTest test)
    {
        json.WriteString("monitor", MessageDecoder.Two(test.MonitorId));
        json.WriteString("test", MessageDecoder.Two(test.TestId));
        json.WriteString("name", $"{test.Monitor}: {test.Test}");
        if (test.Cylinder is { } cylinder)
        {
            json.WriteNumber("cylinder", cylinder);
        }

        json.WriteString("unitId", MessageDecoder.Two(test.UnitId));
        json.WriteNumber("value", Rounded(test.Value));
        json.WriteNumber("min", Rounded(test.Low));
        json.WriteNumber("max", Rounded(test.High));
        if (test.Unit is { Unit.Length: > 0 } unit)
        {
            json.WriteString("unit", unit.Unit);
        }

        json.WriteString("verdict", test.Verdict switch
        {
            TestVerdict.NoResult => "no-result",
            TestVerdict.Passed => "passed",
            TestVerdict.Failed => "failed",
            TestVerdict.NoLimits => "no-limits",
            var verdict => throw new InvalidOperationException($"Unknown verdict {verdict}."),
        });
    }

    public static void Codes(Utf8JsonWriter json, IEnumerable<Diagnosis.Vehicles.TroubleCode> codes)
    {
        json.WriteStartArray("codes");
        foreach (var code in codes)
        {
            json.WriteStartObject();
            json.WriteString("code", code.Text);
            json.WriteString("says", CodeWords.For(code));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    public static void Texts(Utf8JsonWriter json, string name, IReadOnlyCollection<string> texts)
    {
        if (texts.Count == 0)
        {
            return;
        }

        json.WriteStartArray(name);
        foreach (var text in texts)
        {
            json.WriteStringValue(text);
        }

        json.WriteEndArray();
    }

    public static string Kind(CodeKind kind) => kind switch
    {
        CodeKind.Stored => "stored",
        CodeKind.Pending => "pending",
        CodeKind.Permanent => "permanent",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    public static decimal Rounded(double value, int decimals = 6)
    {
        // Without the zeros behind: 750 rather than 750.000000.
        var rounded = Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero);
        return rounded / 1.0000000000000000000000000000m;
    }
}
