using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Tables;

/// <summary>Writes the whole dialogue of one car.</summary>
internal sealed class Trace(TextWriter to) : IWatcher
{
    private const int Causes = 6;

    public void Took(BenchTest test, IReadOnlyList<Reading> readings, double minutes, Game game)
    {
        to.WriteLine(Invariant($"TAKE {test.Id} ({minutes:0.#} min, {game.Minutes:0.#} in all)"));
        foreach (var reading in readings)
        {
            to.WriteLine($"    {reading.At}: {string.Join(", ", reading.Value.Fields.Select(f => $"{f.Key}={Value(f.Value)}"))}");
        }

        foreach (var finding in game.Assessment.Findings.Where(f => f.Test == test.Id && readings.Any(r => r.At == f.At || f.At.Kind != r.At.Kind)))
        {
            to.WriteLine($"    -> {finding.Aspect} {finding.At}: {finding.Outcome ?? "cannot tell"}");
        }
    }

    public void Repaired(Verdict verdict, Game game) => to.WriteLine(
        $"REPAIR {verdict.Cause} at {verdict.At}{(verdict.Proven ? "" : " to see")}: {(verdict.Right ? "right" : "WRONG")}, {(verdict.Mended ? "mended" : "mended nothing")}");

    public void Assessed(Assessment assessment)
    {
        to.WriteLine("  likely: " + string.Join(", ", assessment.Causes.Take(Causes).Select(c => Invariant($"{c.Cause} {c.At} {100 * c.Probability:0.0}{(c.Proven ? " proven" : "")}")))
            + Invariant($"; unlisted {100 * assessment.Unlisted:0.0}"));
        foreach (var contradiction in assessment.Contradictions)
        {
            to.WriteLine($"  contradiction: {contradiction.Because}");
        }

        if (assessment.Conclusion is { } conclusion)
        {
            to.WriteLine("  CONCLUSION: " + string.Join(", ", conclusion.Causes.Select(c => $"{c.Cause} at {c.At}")));
        }

        foreach (var next in assessment.Next.Take(3))
        {
            to.WriteLine(Invariant($"  next: {next.Test ?? "repair " + next.Repair?.Summary} at {next.At}, {next.Minutes:0.#} min: {next.Because}"));
        }
    }

    private static string Value(FieldValue value) => value.Numbers.IsEmpty
        ? value.Texts.IsEmpty ? "null" : string.Join("/", value.Texts)
        : string.Join("/", value.Numbers.Select(n => n.ToString("0.###", CultureInfo.InvariantCulture)));

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
