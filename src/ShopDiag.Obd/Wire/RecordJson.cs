using System.Text.Json;
using ShopDiag.Obd.Codes;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Wire;

/// <summary>One decoded message.</summary>
internal static class RecordJson
{
    public static void Write(Utf8JsonWriter json, ObdRecord record)
    {
        Head(json, record);
        Body(json, record);
        PartsJson.Texts(json, "remarks", record.Remarks);
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
            json.WriteNumber("t", PartsJson.Rounded(seconds));
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
                    PartsJson.Monitors(json, monitors);
                }

                if (values.FreezeCode is { } stored)
                {
                    json.WriteString("freezeFrameCode", stored.Text);
                }

                PartsJson.Values(json, "values", values.Values);
                break;
            case FreezeFrameRecord frame:
                Frame(json, frame);
                break;
            case CodesRecord codes:
                json.WriteString("codeKind", PartsJson.Kind(codes.Kind));
                PartsJson.Codes(json, codes.Codes);
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

        PartsJson.Values(json, "values", frame.Values);
    }

    private static void Tests(Utf8JsonWriter json, TestsRecord tests)
    {
        Ids(json, "supported", tests.Supported);
        json.WriteStartArray("tests");
        foreach (var test in tests.Tests)
        {
            json.WriteStartObject();
            PartsJson.Test(json, test);
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

        PartsJson.Texts(json, "calibrationIds", vehicle.CalibrationIds);
        PartsJson.Texts(json, "verificationNumbers", vehicle.VerificationNumbers);
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

    private static void Ids(Utf8JsonWriter json, string name, IReadOnlyCollection<byte> ids) => PartsJson.Texts(json, name, [.. ids.Select(MessageDecoder.Two)]);
}
