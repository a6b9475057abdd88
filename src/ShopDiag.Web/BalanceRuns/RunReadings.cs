using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>What a cylinder's cancellation showed, on its way to being a reading. Speeds in whole rpm.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="Bases">Speed before, trial by trial.</param>
/// <param name="Cancelled">Lowest settled speed without it, trial by trial.</param>
public sealed record CylinderTrials(int Cylinder, ImmutableArray<double> Bases, ImmutableArray<double> Cancelled);

/// <summary>Turns the outcome of a balance run into readings of the bench test, and says what they would come to.</summary>
public static class RunReadings
{
    /// <summary>The bench test.</summary>
    public const string Test = "power-balance";

    /// <summary>The trials that count, by cylinder, in order of their number.</summary>
    public static ImmutableArray<CylinderTrials> Of(RunAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return
        [
            .. analysis.Drops.Where(d => d is { Fate: DropFate.Counts, Cylinder: not null }).GroupBy(d => d.Cylinder!.Value).OrderBy(g => g.Key)
                .Select(g => new CylinderTrials(g.Key, [.. g.Select(d => Whole(d.Measured.BaseRpm))], [.. g.Select(d => Whole(d.Measured.CancelledRpm))])),
        ];
    }

    /// <summary>A cylinder's trials as a reading; the engine of a balance run is warm.</summary>
    public static Reading Reading(CylinderTrials trials, Stage stage, string note)
    {
        ArgumentNullException.ThrowIfNull(trials);
        return new()
        {
            Test = Test,
            At = Place.Cylinder(trials.Cylinder),
            Value = new(
            [
                KeyValuePair.Create("baseRpm", new FieldValue { Numbers = trials.Bases }),
                KeyValuePair.Create("cancelledRpm", new FieldValue { Numbers = trials.Cancelled }),
            ]),
            Stage = stage,
            Warm = true,
            Note = note.Length > 0 ? note : null,
        };
    }

    /// <summary>
    /// What the readings would come to on the sheet, by cylinder: the test's own judgement, with the other readings of the order. Where they take the place of earlier
    /// ones these are passed over. Takes a while on large engines: call it beside the circuit.
    /// </summary>
    public static ImmutableDictionary<int, Finding> Verdicts(Workup workup, Knowledge knowledge, ImmutableArray<CylinderTrials> trials, Stage stage, bool replace)
    {
        ArgumentNullException.ThrowIfNull(workup);
        var taken = trials.Select(t => Place.Cylinder(t.Cylinder)).ToHashSet();
        var others = workup.Readings.Where(r => !(replace && r.Test == Test && r.Stage == stage && taken.Contains(r.At)));
        var with = workup with { Readings = [.. others, .. trials.Select(t => Reading(t, stage, ""))] };
        return Diagnostician.Assess(with, knowledge).Findings
            .Where(f => f.Test == Test && f.Stage == stage && f.At.Kind == PlaceKind.Cylinder)
            .ToImmutableDictionary(f => f.At.First);
    }

    /// <summary>
    /// The commands that put the trials on an order. Their keys follow from the source, the values and what the order has already, so that confirming twice, or once more
    /// after a lost connection, changes nothing. <paramref name="replace"/> takes back the earlier readings of those cylinders.
    /// </summary>
    public static ImmutableArray<NewReading> Commands(RepairOrder order, string source, ImmutableArray<CylinderTrials> trials, Stage stage, string note, bool replace)
    {
        ArgumentNullException.ThrowIfNull(order);
        var commands = ImmutableArray.CreateBuilder<NewReading>();
        foreach (var cylinder in trials)
        {
            var all = order.Readings.Where(r => r.Reading.Test == Test && r.Reading.Stage == stage && r.Reading.At == Place.Cylinder(cylinder.Cylinder)).ToArray();
            var counting = all.Where(r => !r.Superseded && !r.Withdrawn).ToArray();
            if (counting.Any(r => Enumerable.Range(0, all.Length).Any(n => r.Id == Key(source, cylinder, stage, n))))
            {
                continue;
            }

            var key = Key(source, cylinder, stage, all.Length);
            commands.Add(new() { Id = key, Reading = Reading(cylinder, stage, note), SupersedesId = replace ? counting.FirstOrDefault()?.Id : null });
            commands.AddRange(replace ? counting.Skip(1).Select(r => Back(r, key)) : []);
        }

        return commands.ToImmutable();
    }

    /// <summary>The commands that take back what <see cref="Commands"/> put on the order and still counts there.</summary>
    public static ImmutableArray<NewReading> TakeBack(RepairOrder order, string source, ImmutableArray<CylinderTrials> trials, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(order);
        var all = order.Readings.Where(r => r.Reading.Test == Test && r.Reading.Stage == stage).ToArray();
        var ours = trials.SelectMany(t => Enumerable.Range(0, all.Length + 1).Select(n => Key(source, t, stage, n))).ToHashSet();
        return [.. all.Where(r => !r.Superseded && !r.Withdrawn && ours.Contains(r.Id)).Select(r => Back(r, r.Id))];
    }

    private static NewReading Back(StoredReading reading, Guid because) => new()
    {
        Id = Hash($"{reading.Id}|back|{because}"), Reading = reading.Reading with { Note = null }, SupersedesId = reading.Id, Withdrawn = true,
    };

    private static Guid Key(string source, CylinderTrials trials, Stage stage, int before) =>
        Hash(FormattableString.Invariant($"{source}|{stage}|{trials.Cylinder}|{string.Join(",", trials.Bases)}|{string.Join(",", trials.Cancelled)}|{before}"));

    // A key that is made of what it stands for, in the form of a version 8 UUID (RFC 9562, 5.8).
    private static Guid Hash(string text)
    {
        var bytes = SHA256.HashData(Encoding.UTF8.GetBytes(text)).AsSpan(0, 16);
        BinaryPrimitives.WriteUInt16BigEndian(bytes[6..], (ushort)((BinaryPrimitives.ReadUInt16BigEndian(bytes[6..]) & 0x0FFF) | 0x8000));
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new(bytes, bigEndian: true);
    }

    private static double Whole(double rpm) => Math.Round(rpm, MidpointRounding.AwayFromZero);
}
