using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>Makes the repair of one or more causes on one engine: sentence, parts with their positions, labour with access.</summary>
public static class RepairPlan
{
    /// <summary>The repair of the causes together. Access to a bank is counted once.</summary>
    public static Repair For(Engine engine, IReadOnlyList<(Cause Cause, Place At)> causes)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(causes);
        var access = causes
            .Where(c => c.Cause.Repair.Access != Access.None)
            .SelectMany(c => engine.CylindersAt(c.At).Select(engine.BankOf))
            .Distinct()
            .Sum(engine.AccessMinutes);
        return new Repair(
            string.Join(" ", causes.Select(c => InWords(c.Cause.Repair.Summary, c.At))),
            [.. causes.SelectMany(c => PartsOf(engine, c.Cause, c.At)).DistinctBy(p => (p.Part, p.At))],
            causes.Sum(c => c.Cause.Repair.LabourMinutes) + access,
            [.. causes.SelectMany(c => c.Cause.Repair.Check).Distinct()]);
    }

    /// <summary>A sentence of the knowledge with the place put in.</summary>
    public static string InWords(string sentence, Place at)
    {
        ArgumentNullException.ThrowIfNull(sentence);
        return sentence.Replace("{place}", at.ToString(), StringComparison.Ordinal);
    }

    private static IEnumerable<RepairPart> PartsOf(Engine engine, Cause cause, Place at) =>
        cause.Repair.Parts.SelectMany(part => part.Count switch
        {
            PartCount.One => [Line(part, 1, at)],
            PartCount.PerCylinder => engine.CylindersAt(at).Select(c => Line(part, 1, Place.Cylinder(c))),
            PartCount.WholeSet => [Line(part, engine.CylinderCount, Place.Engine)],
            PartCount.PerBank => engine.CylindersAt(at).Select(engine.BankOf).Distinct().Select(b => Line(part, 1, Place.Bank(b))),
            _ => throw new InvalidOperationException($"Unknown count {part.Count}."),
        });

    private static RepairPart Line(CausePart part, int quantity, Place at) => new(part.Part, quantity, at, part.MustMatch, part.Together);
}
