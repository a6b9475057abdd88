using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Workup lines as they travel.</summary>
public static class WorkupJson
{
    private static readonly JsonDocumentOptions Options = new() { MaxDepth = 32 };

    /// <summary>Reads one line. The id is given back even when the rest is wrong, so that the answer can name it; null when there is none.</summary>
    public static (string? Id, Parsed<Workup> Workup) Read(string line, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(line);
        ArgumentNullException.ThrowIfNull(knowledge);
        try
        {
            using var document = JsonDocument.Parse(line, Options);
            if (document.RootElement.ValueKind != JsonValueKind.Object)
            {
                return (null, new InputError("", "A workup is a JSON object in braces, one a line."));
            }

            var id = JsonInput.Member(document.RootElement, "id") switch
            {
                { ValueKind: JsonValueKind.String } text => text.GetString(),
                { ValueKind: JsonValueKind.Number } number => number.GetRawText(),
                _ => null,
            };
            return (id, Read(id, document.RootElement, knowledge));
        }
        catch (JsonException e)
        {
            return (null, new InputError("", string.Create(CultureInfo.InvariantCulture, $"This line is not JSON: something is wrong at character {e.BytePositionInLine + 1}.")));
        }
    }

    private static Parsed<Workup> Read(string? id, JsonElement json, Knowledge knowledge)
    {
        var remarks = new List<string>();
        if (JsonInput.Member(json, "engine") is not { } engineJson)
        {
            return new InputError("engine", "is missing.");
        }

        var engine = EngineJson.Read(engineJson, knowledge, remarks);
        if (engine.Error is { } wrong)
        {
            return wrong.Under("engine");
        }

        var concern = ReadConcern(json, knowledge);
        var shop = ReadShop(json, knowledge);
        var earlier = EarlierJson.Read(json, engine.Value, knowledge);
        var readings = ReadReadings(json, engine.Value, knowledge, remarks);
        var obstacles = ObstacleJson.Read(json, engine.Value, knowledge, remarks);
        if ((concern.Error?.Under("concern") ?? shop.Error?.Under("shop") ?? earlier.Error ?? readings.Error ?? obstacles.Error) is { } error)
        {
            return error;
        }

        remarks.AddRange(JsonInput.Unknown(json, "id", "engine", "concern", "shop", "earlier", "readings", "obstacles").Select(n => $"The field '{n}' is not known and was passed over."));
        return new Workup
        {
            Id = id ?? "", Engine = engine.Value, Concern = concern.Value, Shop = shop.Value, EarlierRepairs = earlier.Value, Readings = readings.Value,
            Obstacles = obstacles.Value, Remarks = [.. remarks],
        };
    }

    private static Parsed<Concern> ReadConcern(JsonElement json, Knowledge knowledge)
    {
        if (JsonInput.Member(json, "concern") is not { } concern)
        {
            return new Concern();
        }

        if (concern.ValueKind != JsonValueKind.Object)
        {
            return new InputError("", "must be an object in braces.");
        }

        var codes = JsonInput.Member(concern, "codes") is { } c ? JsonInput.Texts(c, "codes") : ImmutableArray<string>.Empty;
        var when = JsonInput.Member(concern, "when") is { } w ? JsonInput.Texts(w, "when") : ImmutableArray<string>.Empty;
        var lamp = JsonInput.Member(concern, "lamp") is null
            ? Lamp.Unknown
            : JsonInput.Word(concern, "lamp", [("off", Lamp.Off), ("steady", Lamp.Steady), ("flashing", Lamp.Flashing), ("unknown", Lamp.Unknown)]);
        if ((codes.Error ?? when.Error ?? lamp.Error) is { } error)
        {
            return error;
        }

        var tidy = codes.Value.Select(t => t.Trim().ToUpperInvariant()).ToImmutableArray();
        return CodesError(tidy, knowledge) is { } wrong ? wrong : new Concern { Codes = tidy, When = when.Value, Lamp = lamp.Value };
    }

    // The concern's codes count as a reading of the trouble codes and obey the same rules.
    private static InputError? CodesError(ImmutableArray<string> codes, Knowledge knowledge)
    {
        return !codes.IsEmpty && knowledge.CodesTest is { } test && ReadingCheck.CodesError(test.ReadingOf(codes), test) is { } error
            ? error with { At = "codes" }
            : null;
    }

    private static Parsed<ShopSetup> ReadShop(JsonElement json, Knowledge knowledge)
    {
        if (JsonInput.Member(json, "shop") is not { } shop)
        {
            return new ShopSetup();
        }

        if (shop.ValueKind != JsonValueKind.Object)
        {
            return new InputError("", "must be an object in braces.");
        }

        var tools = JsonInput.Member(shop, "tools") is { } t ? JsonInput.Texts(t, "tools") : ImmutableArray.Create("*");
        var labour = JsonInput.Member(shop, "labourPerHour") is { } l ? JsonInput.Number(l, "labourPerHour") : 0;
        var altitude = JsonInput.Member(shop, "altitudeMetres") is { } a ? JsonInput.Number(a, "altitudeMetres") : 0;
        var priors = PriorsJson.Read(shop, "priors", knowledge);
        var rule = JsonInput.Member(shop, "altitudeRule") is null
            ? AltitudeRule.PressureRatio
            : JsonInput.Word(shop, "altitudeRule", [("pressure-ratio", AltitudeRule.PressureRatio), ("density-ratio", AltitudeRule.DensityRatio)]);
        if ((tools.Error ?? labour.Error ?? altitude.Error ?? rule.Error ?? priors.Error) is { } error)
        {
            return error;
        }

        if (altitude.Value is < -500 or > 6000)
        {
            return new InputError("altitudeMetres", "must be from -500 to 6000.");
        }

        return labour.Value < 0
            ? new InputError("labourPerHour", "must be 0 or more.")
            : new ShopSetup
            {
                Tools = tools.Value, LabourPerHour = labour.Value == 0 ? null : labour.Value, AltitudeMetres = altitude.Value, AltitudeRule = rule.Value, PriorWeights = priors.Value,
            };
    }

    private static Parsed<ImmutableArray<Reading>> ReadReadings(JsonElement json, Engine engine, Knowledge knowledge, List<string> remarks)
    {
        if (JsonInput.Member(json, "readings") is not { } list)
        {
            return ImmutableArray<Reading>.Empty;
        }

        var readings = JsonInput.List(list, "readings", (element, at) =>
        {
            var reading = ReadingJson.Read(element, engine, knowledge, remarks);
            return reading.Error is { } error ? error.Under(at) : reading;
        });
        if (!readings.IsValid)
        {
            return readings;
        }

        for (var i = 0; i < readings.Value.Length; i++)
        {
            if (readings.Value[i].Supersedes is { } older && (older >= i || readings.Value[older].Test != readings.Value[i].Test || readings.Value[older].At != readings.Value[i].At))
            {
                return new InputError(string.Create(CultureInfo.InvariantCulture, $"readings[{i}].supersedes"), "must be the index of an earlier reading of the same test at the same place, counted from 0.");
            }
        }

        remarks.AddRange(Doubts(readings.Value, knowledge));
        return readings;
    }

    // On the screen an unlikely number is asked about; a program is told, unless it has corrected it already.
    private static IEnumerable<string> Doubts(ImmutableArray<Reading> readings, Knowledge knowledge)
    {
        var corrected = readings.Select(r => r.Supersedes).OfType<int>().ToHashSet();
        return readings.Where((_, i) => !corrected.Contains(i))
            .Select(r => (Test: knowledge.Test(r.Test)!, r.At, Doubt: ReadingCheck.Doubt(r, knowledge.Test(r.Test)!)))
            .Where(d => d.Doubt is not null)
            .Select(d => $"{d.Test.Title}, {d.At}: {d.Doubt}");
    }
}
