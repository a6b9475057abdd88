using System.Text.Json;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Signals.Waveforms.Coil;
using ShopDiag.Signals.Waveforms.Cranking;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Injector;
using ShopDiag.Signals.Waveforms.Pulses;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Wire;

/// <summary>What a waveform comes to, as lines of JSON.</summary>
public static class WaveformJson
{
    /// <summary>The word for a kind on the wire and on the command line.</summary>
    public static string Word(WaveformKind kind) => kind switch
    {
        WaveformKind.CrankingCurrent => "cranking-current",
        WaveformKind.CrankSensor => "crank-sensor",
        WaveformKind.ToothTimes => "tooth-times",
        WaveformKind.InjectorCurrent => "injector-current",
        WaveformKind.CoilCurrent => "coil-current",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    /// <summary>The kind that a word stands for; null for any other word.</summary>
    public static WaveformKind? Kind(string? word) => Enum.GetValues<WaveformKind>().Cast<WaveformKind?>().FirstOrDefault(k => Word(k!.Value) == word);

    /// <summary>All lines of an analysis: one for each cylinder that has a value, and the summary.</summary>
    public static IEnumerable<string> Lines(WaveformFile file, WaveformAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return [.. analysis.Compression.Select(Write), .. analysis.Work.Select(Write), Write(file, analysis)];
    }

    /// <summary><c>{"cylinder":1,"position":"A","relativePercent":97.2,"standardError":0.8}</c>; the cylinder is null where nothing tells it.</summary>
    public static string Write(CylinderCompression compression)
    {
        ArgumentNullException.ThrowIfNull(compression);
        return JsonLine.Of(json =>
        {
            Write(json, "cylinder", compression.Cylinder);
            json.WriteString("position", compression.Position.ToString());
            json.WriteNumber("relativePercent", Rounded(compression.Percent, 1));
            json.WriteNumber("standardError", Rounded(compression.StandardError, 1));
        });
    }

    /// <summary><c>{"cylinder":1,"couldBe":[1],"misfires":12,"revolutions":240,"misfiring":true,"workPercent":84.5}</c>; the cylinder is null where it cannot be told from its companion.</summary>
    public static string Write(CylinderWork work)
    {
        ArgumentNullException.ThrowIfNull(work);
        return JsonLine.Of(json =>
        {
            Write(json, "cylinder", work.Cylinder);
            json.WriteStartArray("couldBe");
            foreach (var cylinder in work.CouldBe)
            {
                json.WriteNumberValue(cylinder);
            }

            json.WriteEndArray();
            json.WriteNumber("misfires", work.Misfires);
            json.WriteNumber("revolutions", 2 * work.Cycles);
            json.WriteBoolean("misfiring", work.Misfiring);
            if (work.WorkPercent is { } percent)
            {
                json.WriteNumber("workPercent", Rounded(percent, 1));
            }
            else
            {
                json.WriteNull("workPercent");
            }
        });
    }

    /// <summary>
    /// The last line of an analysis: <c>{"kind":"injector-current","channel":1,"because":"..","rows":..,"sampleRate":..,"seconds":..,"injector":{..},"findings":[..],"reasons":[..]}</c>. Times in ms,
    /// inductance in mH; a quantity over several pulses is <c>{"median":..,"scatter":..,"pulses":..}</c>, null where it could not be told.
    /// </summary>
    public static string Write(WaveformFile file, WaveformAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(analysis);
        return JsonLine.Of(json =>
        {
            json.WriteString("kind", Word(analysis.Kind));
            json.WriteNumber("channel", analysis.Channel);
            json.WriteString("because", analysis.Because);
            json.WriteNumber("rows", file.Rows);
            if (file.Waveform is { } waveform)
            {
                json.WriteNumber("sampleRate", Rounded(waveform.SampleRate, 3));
                json.WriteNumber("seconds", Rounded(waveform.Seconds, 6));
            }

            if (analysis.Injector is { } injector)
            {
                json.WriteStartObject("injector");
                Write(json, injector);
                json.WriteEndObject();
            }

            if (analysis.Coil is { } coil)
            {
                json.WriteStartObject("coil");
                Write(json, coil);
                json.WriteEndObject();
            }

            Write(json, "findings", analysis.Findings);
            Write(json, "reasons", analysis.Reasons);
        });
    }

    private static void Write(Utf8JsonWriter json, InjectorCurrent injector)
    {
        json.WriteString("hump", injector.Hump switch
        {
            OpeningHump.Present => "present",
            OpeningHump.Absent => "absent",
            OpeningHump.Unclear => "unclear",
            _ => throw new InvalidOperationException($"Unknown hump {injector.Hump}."),
        });
        Write(json, "openMs", injector.Open, 1e3);
        Write(json, "pulseMs", injector.PulseWidth, 1e3);
        Write(json, "peakAmps", injector.Peak, 1);
        Write(json, "holdAmps", injector.Hold, 1);
        Write(json, "ohm", injector.Ohm, 1);
    }

    private static void Write(Utf8JsonWriter json, CoilCurrent coil)
    {
        json.WriteString("end", coil.End switch
        {
            CoilEnd.Rising => "rising",
            CoilEnd.Limited => "limited",
            CoilEnd.Settled => "settled",
            CoilEnd.Saturated => "saturated",
            null => "unclear",
            _ => throw new InvalidOperationException($"Unknown end {coil.End}."),
        });
        Write(json, "dwellMs", coil.Dwell, 1e3);
        Write(json, "peakAmps", coil.Peak, 1);
        Write(json, "limitReachedMs", coil.LimitReached, 1e3);
        Write(json, "milliHenry", coil.Henry, 1e3);
        Write(json, "tauMs", coil.Tau, 1e3);
    }

    private static void Write(Utf8JsonWriter json, string name, Spread? spread, double factor)
    {
        if (spread is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.WriteNumber("median", Rounded(factor * spread.Median, 4));
        json.WriteNumber("scatter", Rounded(factor * spread.Deviation, 4));
        json.WriteNumber("pulses", spread.Count);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, int? number)
    {
        if (number is { } there)
        {
            json.WriteNumber(name, there);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static void Write(Utf8JsonWriter json, string name, IEnumerable<string> lines)
    {
        json.WriteStartArray(name);
        foreach (var line in lines)
        {
            json.WriteStringValue(line);
        }

        json.WriteEndArray();
    }

    // A rate may be as large as 1e12, which a decimal still holds.
    private static decimal Rounded(double value, int decimals) => Math.Round((decimal)value, decimals, MidpointRounding.AwayFromZero);
}
