using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>How the place of a finding stands to the place of a cause.</summary>
internal static class Relations
{
    /// <summary>The relation of <paramref name="finding"/> as seen from <paramref name="cause"/>.</summary>
    public static Relation Of(Engine engine, Place finding, Place cause)
    {
        if (cause.Kind == PlaceKind.Engine)
        {
            return Relation.Here;
        }

        return finding.Kind switch
        {
            PlaceKind.Engine => Relation.Engine,
            PlaceKind.Bank => OfBank(engine, finding.First, cause),
            PlaceKind.Cylinder => OfCylinder(engine, finding.First, cause),
            _ => throw new InvalidOperationException($"A finding cannot stand at {finding}."),
        };
    }

    private static Relation OfBank(Engine engine, int bank, Place cause)
    {
        if (cause.Kind == PlaceKind.Bank)
        {
            return cause.First == bank ? Relation.Here : Relation.Elsewhere;
        }

        return engine.CylindersAt(cause).Any(c => engine.BankOf(c) == bank) ? Relation.SameBank : Relation.Elsewhere;
    }

    private static Relation OfCylinder(Engine engine, int cylinder, Place cause)
    {
        if (engine.CylindersAt(cause).Contains(cylinder))
        {
            return Relation.Here;
        }

        if (cause.Kind == PlaceKind.Bank)
        {
            return Relation.Elsewhere;
        }

        if (cause.Kind == PlaceKind.Cylinder && engine.Companion(cause.First) == cylinder)
        {
            return Relation.Companion;
        }

        if (engine.CylindersAt(cause).Any(c => engine.Neighbours(c).Contains(cylinder)))
        {
            return Relation.Neighbour;
        }

        return engine.CylindersAt(cause).Any(c => engine.BankOf(c) == engine.BankOf(cylinder))
            ? Relation.SameBank
            : Relation.Elsewhere;
    }
}
