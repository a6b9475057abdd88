using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ShopDiag.Diagnosis;
using ShopDiag.Obd.Codes;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Wire;

/// <summary>Decoded messages as JSON, one a line; numbers to six significant decimals at most.</summary>
public static class ObdJson
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>
    /// One message: <c>{"line":2,"t":0.01,"from":"7E8","kind":"values","service":"01","values":[{"pid":"0C","name":"rpm","value":1726,"unit":"rpm"}]}</c>. Kinds: request, values,
    /// freeze-frame, codes, cleared, tests, vehicle, refusal, unread. Absent members are not said; <c>remarks</c> stand at the end.
    /// </summary>
    public static string Write(ObdRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Write(json =>
        {
            Head(json, record);
            Body(json, record);
            Texts(json, "remarks", record.Remarks);
        });
    }

    /// <summary>Something that could not be read: <c>{"kind":"problem","line":3,"message":".."}</c>.</summary>
    public static string Write(LogProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        return Write(json =>
        {
            json.WriteString("kind", "problem");
            if (problem.Line > 0)
            {
                json.WriteNumber("line", problem.Line);
            }

            json.WriteString("message", problem.Message);
        });
    }

    /// <summary>What the log comes to: <c>{"kind":"summary",...}</c> with units, vins, codes, freezeFrames, monitors, trims, misfires, speed and remarks.</summary>
    public static string Write(ObdFindings findings, ObdLog log)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(log);
        return Write(json => SummaryJson.Write(json, findings, log));
    }

    /// <summary><c>{"error":{"at":..,"message":..}}</c>.</summary>
    public static string WriteError(InputError error)
    {
        ArgumentNullException.ThrowIfNull(error);
        return Write(json =>
        {
            json.WriteStartObject("error");
            json.WriteString("at", error.At);
            json.WriteString("message", error.Message);
            json.WriteEndObject();
        });
    }

    internal static void Values(Utf8JsonWriter json, string name, IEnumerable<ObdValue> values)
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

    internal static void Monitors(Utf8JsonWriter json, MonitorStatus status)
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

    internal static void Test(Utf8JsonWriter json, MonitorTest test)
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

    internal static void Codes(Utf8JsonWriter json, IEnumerable<Diagnosis.Vehicles.TroubleCode> codes)
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

    internal static void Texts(Utf8JsonWriter json, string name, IReadOnlyCollection<string> texts)
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

    internal static string Kind(CodeKind kind) => kind switch
    {
        CodeKind.Stored => "stored",
        CodeKind.Pending => "pending",
        CodeKind.Permanent => "permanent",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    internal static decimal Rounded(double value, int decimals = 6)
    {
        // Without the zeros behind: 750 rather than 750.000000.
        var rounded = Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero);
        return rounded / 1.0000000000000000000000000000m;
    }

    private static void Head(Utf8JsonWriter json, ObdRecord record)
    {
        var message = record.Message;
        if (message.Line > 0)
        {
            json.WriteNumber("line", message.Line);
        }

        if (message.Seconds is { } seconds)
        {
            json.WriteNumber("t", Rounded(seconds));
        }

        if (message.Id is { } id)
        {
            json.WriteString(message.IsAnswer ? "from" : "to", id.ToString());
        }

        json.WriteString("kind", record switch
        {
            RequestRecord => "request",
            ValuesRecord => "values",
            FreezeFrameRecord => "freeze-frame",
            CodesRecord => "codes",
            ClearedRecord => "cleared",
            TestsRecord => "tests",
            VehicleRecord => "vehicle",
            RefusalRecord => "refusal",
            UnreadRecord => "unread",
            _ => throw new InvalidOperationException($"Unknown record {record.GetType().Name}."),
        });
        if (record is not UnreadRecord)
        {
            var service = record switch
            {
                RequestRecord request => request.Service,
                RefusalRecord refusal => refusal.Service,
                _ => (byte)(message.Bytes[0] - 0x40),
            };
            json.WriteString("service", MessageDecoder.Two(service));
        }
    }

    private static void Body(Utf8JsonWriter json, ObdRecord record)
    {
        switch (record)
        {
            case RequestRecord request:
                Ids(json, "asks", request.Ids);
                if (request.Frame is { } asked)
                {
                    json.WriteNumber("frame", asked);
                }

                break;
            case ValuesRecord values:
                Ids(json, "supported", values.Supported);
                foreach (var monitors in values.Monitors.Take(1))
                {
                    Monitors(json, monitors);
                }

                if (values.FreezeCode is { } stored)
                {
                    json.WriteString("freezeFrameCode", stored.Text);
                }

                Values(json, "values", values.Values);
                break;
            case FreezeFrameRecord frame:
                Frame(json, frame);
                break;
            case CodesRecord codes:
                json.WriteString("codeKind", Kind(codes.Kind));
                Codes(json, codes.Codes);
                break;
            case TestsRecord tests:
                Tests(json, tests);
                break;
            case VehicleRecord vehicle:
                Vehicle(json, vehicle);
                break;
            case RefusalRecord refusal:
                json.WriteString("code", MessageDecoder.Two(refusal.Code));
                json.WriteString("reason", refusal.Reason);
                json.WriteBoolean("pending", refusal.IsPending);
                break;
            case UnreadRecord:
                json.WriteString("bytes", Hex.Show(record.Message.Bytes.AsSpan()));
                break;
        }
    }

    private static void Frame(Utf8JsonWriter json, FreezeFrameRecord frame)
    {
        json.WriteNumber("frame", frame.Frame);
        Ids(json, "supported", frame.Supported);
        if (frame.Code is { } code)
        {
            json.WriteString("code", code.Text);
            json.WriteString("says", CodeWords.For(code));
        }
        else if (frame.Empty)
        {
            json.WriteNull("code");
        }

        Values(json, "values", frame.Values);
    }

    private static void Tests(Utf8JsonWriter json, TestsRecord tests)
    {
        Ids(json, "supported", tests.Supported);
        json.WriteStartArray("tests");
        foreach (var test in tests.Tests)
        {
            json.WriteStartObject();
            Test(json, test);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Vehicle(Utf8JsonWriter json, VehicleRecord vehicle)
    {
        Ids(json, "supported", vehicle.Supported);
        if (vehicle.Vin is { } vin)
        {
            SummaryJson.Vin(json, vin);
        }

        Texts(json, "calibrationIds", vehicle.CalibrationIds);
        Texts(json, "verificationNumbers", vehicle.VerificationNumbers);
        if (vehicle.UnitName is { } name)
        {
            json.WriteString("name", name);
        }

        if (!vehicle.InUseCounts.IsEmpty)
        {
            json.WriteStartArray("inUseCounts");
            foreach (var count in vehicle.InUseCounts)
            {
                json.WriteNumberValue(count);
            }

            json.WriteEndArray();
        }
    }

    private static void Ids(Utf8JsonWriter json, string name, IReadOnlyCollection<byte> ids) => Texts(json, name, [.. ids.Select(MessageDecoder.Two)]);

    private static string Write(Action<Utf8JsonWriter> body)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartObject();
            body(json);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
