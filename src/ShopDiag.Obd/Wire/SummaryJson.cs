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
            j.WriteString("codeKind", ObdJson.Kind(c.Kind));
            j.WriteNumber("cleared", c.Cleared);
            ObdJson.Codes(j, c.Codes);
        });
        List(json, "freezeFrames", findings.FreezeFrames, Frame);
        List(json, "monitors", findings.Monitors, (j, m) =>
        {
            j.WriteString("from", m.Unit);
            ObdJson.Monitors(j, m.Status);
        });
        List(json, "tests", findings.Tests, (j, t) =>
        {
            j.WriteString("from", t.Unit);
            ObdJson.Test(j, t.Test);
        });
        List(json, "trims", findings.Trims, Trim);
        List(json, "misfires", findings.Misfires, Misfire);
        List(json, "speed", findings.Speed, (j, s) =>
        {
            j.WriteNumber("t", ObdJson.Rounded(s.Seconds, 3));
            j.WriteNumber("rpm", ObdJson.Rounded(s.Rpm, 2));
        });
        ObdJson.Texts(json, "remarks", findings.Remarks);
    }

    public static void Vin(Utf8JsonWriter json, VinCheck vin)
    {
        json.WriteString("vin", vin.Text);
        json.WriteBoolean("checkDigitFits", ShopDiag.Diagnosis.Vehicles.Vin.CheckDigit(vin.Text) is { } digit && digit == vin.Text[8]);
        if (vin.ModelYear is { } year)
        {
            json.WriteNumber("modelYear", year);
        }

        ObdJson.Texts(json, "warnings", vin.Warnings);
    }

    private static void Unit(Utf8JsonWriter json, ControlUnit unit)
    {
        json.WriteString("id", unit.Id);
        if (unit.Name is not null)
        {
            json.WriteString("name", unit.Name);
        }

        json.WriteNumber("answers", unit.Answers);
        ObdJson.Texts(json, "calibrationIds", unit.CalibrationIds);
        ObdJson.Texts(json, "verificationNumbers", unit.VerificationNumbers);
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

        ObdJson.Values(json, "values", frame.Values);
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
        json.WriteNumber("shortPercent", ObdJson.Rounded(trim.ShortPercent, 3));
        json.WriteNumber("longPercent", ObdJson.Rounded(trim.LongPercent, 3));
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
            json.WriteNumber("revolutions", ObdJson.Rounded(revolutions, 0));
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
