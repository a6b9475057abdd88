using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Web.Obd;

namespace ShopDiag.Web.Waveforms;

/// <summary>Makes of what a waveform came to the readings that an order can take over. Pure: nothing counts before a person confirms it.</summary>
public static class WaveformOffers
{
    /// <summary>A note longer than this is cut: it is read in a cell of the sheet.</summary>
    private const int LongestNote = 400;

    /// <summary>
    /// The offers for an engine. A winding's current belongs to the cylinder that <paramref name="clampedOn"/> names; without one there is none. Where the humps of a cranking have no cylinder yet, hump A
    /// belongs to that one.
    /// </summary>
    public static ImmutableArray<ObdOffer> From(WaveformAnalysis analysis, Engine engine, int? clampedOn)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(engine);
        return analysis.Kind switch
        {
            WaveformKind.CrankingCurrent => [.. Compression(analysis, engine, clampedOn)],
            WaveformKind.CrankSensor or WaveformKind.ToothTimes => [.. Misfires(analysis)],
            WaveformKind.InjectorCurrent when clampedOn is { } cylinder => [Control("injector-control", "Injector control signal", "pulsing", "Pulsing", cylinder, analysis)],
            WaveformKind.CoilCurrent when clampedOn is { } cylinder => [Control("coil-control", "Coil control signal", "present", "Present", cylinder, analysis)],
            _ => [],
        };
    }

    private static IEnumerable<ObdOffer> Compression(WaveformAnalysis analysis, Engine engine, int? first)
    {
        foreach (var (hump, index) in analysis.Compression.Select((h, i) => (h, i)))
        {
            var cylinder = hump.Cylinder ?? (first is { } start ? engine.FiringOrder[(engine.FiringPosition(start) + index) % engine.CylinderCount] : null);
            if (cylinder is { } known)
            {
                var percent = Math.Round(hump.Percent, 0, MidpointRounding.AwayFromZero);
                yield return new ObdOffer(
                    $"compression-{known}", $"Relative compression, cylinder {known}",
                    [string.Create(CultureInfo.InvariantCulture, $"{percent:0} % (hump {hump.Position}, give or take {Math.Max(1, Math.Ceiling(hump.StandardError)):0})")],
                    [Of("cranking-current", known, new("relativePercent", FieldValue.Of(Math.Clamp(percent, 0, 200))), "Read of the cranking current")])
                {
                    Proposed = !analysis.Doubtful,
                };
            }
        }
    }

    /// <summary>Only of cylinders that are known for sure; a working cycle is two revolutions.</summary>
    private static IEnumerable<ObdOffer> Misfires(WaveformAnalysis analysis) => analysis.Work.Where(w => w.Cylinder is not null).OrderBy(w => w.Cylinder).Select(w => new ObdOffer(
        $"misfires-{w.Cylinder}", $"Misfire count, cylinder {w.Cylinder}", [string.Create(CultureInfo.InvariantCulture, $"{w.Misfires} in {2 * w.Cycles} revolutions")],
        [
            new Reading
            {
                Test = "misfire-counts",
                At = Place.Cylinder(w.Cylinder!.Value),
                Note = "Read of the crank's teeth",
                Value = new ReadingValue([new("misfires", FieldValue.Of(w.Misfires)), new("revolutions", FieldValue.Of(2 * w.Cycles))]),
            },
        ]));

    /// <summary>A current that flows is a signal that is there; what else was seen goes along as a note.</summary>
    private static ObdOffer Control(string test, string title, string choice, string word, int cylinder, WaveformAnalysis analysis)
    {
        var note = string.Join(" ", analysis.Findings.Prepend("Read of the current."));
        return new ObdOffer($"{test}-{cylinder}", $"{title}, cylinder {cylinder}", [$"{word}, with the findings above as its note"], [Of(test, cylinder, new("signal", FieldValue.Of(choice)), note)]);
    }

    private static Reading Of(string test, int cylinder, KeyValuePair<string, FieldValue> field, string note) =>
        new() { Test = test, At = Place.Cylinder(cylinder), Note = note.Length > LongestNote ? note[..LongestNote] : note, Value = new ReadingValue([field]) };
}
