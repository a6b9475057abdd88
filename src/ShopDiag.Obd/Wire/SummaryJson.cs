using System.Text.Json;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Codes;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;

namespace ShopDiag.Obd.Wire;

/// <summary>The last line of a decoded log: what it comes to.</summary>
internal static class SummaryJson
{
    public static void Write(Utf8JsonWriter json, ObdFindings findings, ObdLog log)
    {
        json.WriteString("kind", "summary");
        json.WriteNumber("messages", log.Records.Length);
        json.WriteNumber("problems", log.Problems.Length + log.MoreProblems);
        json.WriteNumber("otherFrames", log.OtherFrames + log.PassedOver);
        json.WriteNumber("cleared", findings.Cleared);
        List(json, "units", findings.Units, Unit);
        List(json, "vins", findings.Vins, (j, v) =>
        {
            j.WriteString("from", v.Unit);
            Vin(j, v.Vin);
        });
        List(json, "codes", findings.Codes, (j, c) =>
        {
            j.WriteString("from", c.Unit);
            j.WriteString("codeKind", PartsJson.Kind(c.Kind));
            j.WriteNumber("cleared", c.Cleared);
            PartsJson.Codes(j, c.Codes);
        });
        List(json, "freezeFrames", findings.FreezeFrames, Frame);
        List(json, "monitors", findings.Monitors, (j, m) =>
        {
            j.WriteString("from", m.Unit);
            PartsJson.Monitors(j, m.Status);
        });
        List(json, "tests", findings.Tests, (j, t) =>
        {
            j.WriteString("from", t.Unit);
            PartsJson.Test(j, t.Test);
        });
        List(json, "trims", findings.Trims, Trim);
        List(json, "misfires", findings.Misfires, Misfire);
        List(json, "speed", findings.Speed, (j, s) =>
        {
            j.WriteNumber("t", PartsJson.Rounded(s.Seconds, 3));
            j.WriteNumber("rpm", PartsJson.Rounded(s.Rpm, 2));
        });
        PartsJson.Texts(json, "remarks", findings.Remarks);
    }

    public static void Vin(Utf8JsonWriter json, VinCheck vin)
    {
        json.WriteString("vin", vin.Text);
        json.WriteBoolean("checkDigitFits", ShopDiag.Diagnosis.Vehicles.Vin.CheckDigit(vin.Text) is { } digit && digit == vin.Text[8]);
        if (vin.ModelYear is { } year)
        {
            json.WriteNumber("modelYear", year);
        }

        PartsJson.Texts(json, "warnings", vin.Warnings);
    }

    private static void Unit(Utf8JsonWriter json, ControlUnit unit)
    {
        json.WriteString("id", unit.Id);
        if (unit.Name is not null)
        {
            json.WriteString("name", unit.Name);
        }

        json.WriteNumber("answers", unit.Answers);
        PartsJson.Texts(json, "calibrationIds", unit.CalibrationIds);
        PartsJson.Texts(json, "verificationNumbers", unit.VerificationNumbers);
    }

    private static void Frame(Utf8JsonWriter json, FreezeFrameFound frame)
    {
        json.WriteString("from", frame.Unit);
        json.WriteNumber("frame", frame.Frame);
        if (frame.Code is { } code)
        {
            json.WriteString("code", code.Text);
            json.WriteString("says", CodeWords.For(code));
        }

        PartsJson.Values(json, "values", frame.Values);
    }

    private static void Trim(Utf8JsonWriter json, TrimsFound trim)
    {
        json.WriteNumber("bank", trim.Bank);
        json.WriteString("at", trim.At switch
        {
            TrimPoint.Idle => "idle",
            TrimPoint.At2500 => "2500rpm",
            _ => throw new InvalidOperationException($"Unknown state {trim.At}."),
        });
        json.WriteNumber("shortPercent", PartsJson.Rounded(trim.ShortPercent, 3));
        json.WriteNumber("longPercent", PartsJson.Rounded(trim.LongPercent, 3));
        json.WriteNumber("readings", trim.Readings);
    }

    private static void Misfire(Utf8JsonWriter json, MisfiresFound misfires)
    {
        json.WriteNumber("cylinder", misfires.Cylinder);
        Count(json, "thisCycle", misfires.ThisCycle);
        Count(json, "tenCycles", misfires.TenCycles);
        if (misfires is { Counted: { } counted, Revolutions: { } revolutions })
        {
            json.WriteNumber("counted", counted);
            json.WriteNumber("revolutions", PartsJson.Rounded(revolutions, 0));
        }
    }

    private static void Count(Utf8JsonWriter json, string name, int? count)
    {
        if (count is { } number)
        {
            json.WriteNumber(name, number);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static void List<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(json, item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }
}
