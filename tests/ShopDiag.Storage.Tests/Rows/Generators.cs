using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Tests.Rows;

/// <summary>Records as the program may have to keep them: any text, any finite number, any time.</summary>
internal static class Generators
{
    /// <summary>Any text that has been tidied, as every text has before it is kept.</summary>
    public static readonly Gen<string> Text = Gen.OneOf(Gen.String, Gen.String[Gen.Char.AlphaNumeric, 0, 12], OneOf("", "O'Brien", "a\"b%_\\", "😀漢é", "null", "{}"))
        .Select(PlainText.Clean);

    public static readonly Gen<DateTime> Utc = Gen.Long[DateTime.MinValue.Ticks, DateTime.MaxValue.Ticks].Select(t => new DateTime(t, DateTimeKind.Utc));

    public static readonly Gen<Place> Where = Gen.OneOf(
        Gen.Const(Place.Engine),
        Gen.Int[1, 4].Select(Place.Bank),
        Gen.Int[1, 16].Select(Place.Cylinder),
        Gen.Select(Gen.Int[1, 15], Gen.Int[1, 8]).Select((a, b) => Place.Pair(a, a + b)));

    public static readonly Gen<double> Finite = Gen.OneOf(
        Gen.Double.Where(double.IsFinite), OneOf(0, -0.0, double.Epsilon, double.MaxValue, double.MinValue, 0.1 + 0.2, 1e21));

    public static readonly Gen<ReadingValue> Value = Gen.Select(
            OneOf("kPa", "codes", "idle.shortPercent", "misfireMovedTo", "where").Array[0, 5],
            Gen.Select(Finite.Array[0, 3], Text.Array[0, 3]).Array[5])
        .Select((names, fields) => new ReadingValue(names.Distinct().Select((n, i) =>
            KeyValuePair.Create(n, new FieldValue { Numbers = [.. fields[i].Item1], Texts = [.. fields[i].Item2] }))));

    public static readonly Gen<EngineSpec> Engine = Gen.Select(Gen.Int[1, 16], Gen.Enum<Ignition>(), Gen.Enum<Injection>(), Finite.Array[0, 3], Gen.Bool)
        .Select((n, ignition, injection, numbers, hybrid) => new EngineSpec
        {
            Layout = $"I{n}",
            Banks = [[.. Enumerable.Range(1, n)]],
            FiringOrder = [.. Enumerable.Range(1, n).Reverse()],
            FiringIntervals = [.. numbers],
            Ignition = ignition,
            Injection = injection,
            AccessMinutes = numbers.Select((v, i) => (i, v)).ToImmutableDictionary(p => p.i, p => p.v),
            Limits = numbers.Select((v, i) => (i, v)).ToImmutableDictionary(p => $"limit-{p.i}", p => p.v),
            Hybrid = hybrid,
        });

    public static readonly Gen<OrderFinding> Finding = Gen.Select(Gen.Select(Where, Where, Text), Finite, Text, Utc, Gen.Bool)
        .Select((parts, number, text, at, proven) => new OrderFinding
        {
            Conclusion = new(
                [new ProvenCause("coil-failed", parts.Item1), new ProvenCause("plug-worn", parts.Item2)],
                [new ProofReading("spark-output", parts.Item1, "none", parts.Item3)],
                new Repair(text, [new RepairPart(parts.Item3, 4, parts.Item2, text, proven)], number, ["power-balance", text])),
            Probability = number,
            UnprovenReason = proven ? null : text,
            At = at,
            By = text,
        });

    public static readonly Gen<ShopSettings> Settings = Gen.Select(Text, Gen.Long[0, long.MaxValue], Gen.Bool, Finite, Text.Array[0, 3])
        .Select((text, money, flag, number, words) => new ShopSettings
        {
            Name = text,
            Address = text + "\n" + text,
            Phone = text,
            Currency = "EUR",
            LabourPerHourMinor = money,
            UnitSystem = flag ? "us" : "metric",
            Units = words.Distinct().ToImmutableDictionary(w => w, _ => text),
            Paper = flag ? "a4" : "letter",
            // SQLite keeps no minus before a zero in a column of numbers (readings are kept as text and do).
            AltitudeMetres = number + 0.0,
            Tools = [.. words],
            IsDemo = flag,
            LearnFromCases = !flag, AltitudeRule = flag ? AltitudeRule.DensityRatio : AltitudeRule.PressureRatio,
        });

    private static readonly Gen<Reading> Taken = Gen.Select(Text, Where, Value, Gen.Enum<Stage>(), Gen.Bool.Nullable(), Gen.Select(Utc, Gen.Int[-840, 840]), Text)
        .Select((test, at, value, stage, warm, time, text) => new Reading
        {
            Test = test,
            At = at,
            Value = value,
            Stage = stage,
            Warm = warm,
            TakenAt = warm is null ? null : At(time.Item1, time.Item2),
            By = warm is null ? null : text,
            Note = warm is true ? text : null,
        });

    private static readonly Gen<StoredObstacle> Obstacle = Gen.Select(Text, Where, Text, Utc, Utc.Nullable()).Select((text, at, why, said, ended) => new StoredObstacle
    {
        Id = Guid.NewGuid(), Obstacle = new(text, at) { Why = why }, By = text, SaidAt = said, EndedBy = ended is null ? null : why, EndedAt = ended,
    });

    /// <summary>An order with up to six readings, some of which correct earlier ones.</summary>
    public static readonly Gen<RepairOrder> Order = Gen.Select(
            Gen.Select(Text, Text, Text, Engine),
            Gen.Select(Gen.Enum<OrderStage>(), Gen.Enum<Lamp>(), Gen.Int[0, 9_999_999].Nullable(), Gen.Long[0, long.MaxValue].Nullable(), Utc),
            Gen.Select(Gen.Select(Taken, Gen.Int[0, 9], Gen.Bool).Array[0, 6], Obstacle.Array[0, 3]),
            Finding.Null(),
            Gen.Select(Gen.Enum<OrderStage>(), Utc, Text, Text).Array[1, 4])
        .Select((texts, facts, readings, finding, moves) => new RepairOrder
        {
            Id = Guid.NewGuid(),
            Number = 1001,
            Stage = facts.Item1,
            Customer = new() { Id = Guid.NewGuid(), Name = texts.Item1, Phone = texts.Item2, Email = texts.Item3 },
            Vehicle = new()
            {
                Id = Guid.NewGuid(),
                Plate = texts.Item3,
                Vin = texts.Item2,
                Description = texts.Item1,
                Year = facts.Item3 is null ? null : 1998,
                Engine = facts.Item4 is null ? null : texts.Item4,
                EngineTitle = texts.Item2,
            },
            ConcernText = texts.Item1,
            Concern = new() { Codes = facts.Item3 is null ? [] : ["P0304", "U0100"], Lamp = facts.Item2, When = facts.Item4 is null ? [] : ["idle", "after-work"] },
            Odometer = facts.Item3,
            OdometerUnit = facts.Item3 is null ? "km" : "mi",
            PromisedAt = facts.Item3 is null ? null : facts.Item5,
            Technician = texts.Item3,
            AuthorisedMinutes = (facts.Item3 ?? 0) % 10_001,
            DiagnosisPriceMinor = facts.Item4,
            Readings = Chain(readings.Item1),
            Obstacles = [.. readings.Item2.OrderBy(o => o.SaidAt).ThenBy(o => o.Id)],
            Finding = finding,
            Moves = [.. moves.Select(m => new StageMove(m.Item1, m.Item2, m.Item3, m.Item4))],
            CreatedAt = facts.Item5,
        });

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    /// <summary>A time with an offset, as far as it stays inside the calendar.</summary>
    private static DateTimeOffset At(DateTime utc, int minutes)
    {
        var safe = new DateTime(Math.Clamp(utc.Ticks, TimeSpan.TicksPerDay, DateTime.MaxValue.Ticks - TimeSpan.TicksPerDay), DateTimeKind.Utc);
        return new DateTimeOffset(safe).ToOffset(TimeSpan.FromMinutes(minutes));
    }

    private static ImmutableArray<StoredReading> Chain((Reading Reading, int Corrects, bool Withdraws)[] taken)
    {
        var ids = taken.Select(_ => Guid.NewGuid()).ToArray();
        var corrected = taken.Select((t, i) => t.Corrects < i ? t.Corrects : (int?)null).ToArray();
        return
        [
            .. taken.Select((t, i) => new StoredReading
            {
                Id = ids[i],
                Sequence = i + 1,
                Reading = t.Reading,
                SupersedesId = corrected[i] is { } earlier ? ids[earlier] : null,
                Withdrawn = corrected[i] is not null && t.Withdraws,
                Superseded = corrected.Contains(i),
            }),
        ];
    }
}
