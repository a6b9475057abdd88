using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>
/// A made-up engine with few causes and few tests, so small that the least expected bench minutes to a conclusion can be worked out exactly.
/// Cylinder 2 is known not to pull; every cause excludes the others (single faults only).
/// </summary>
public sealed record SmallWorld
{
    /// <summary>Minutes that are added where nothing is proven though all that could prove it has been read. Made up.</summary>
    public const double Unresolved = 60;

    /// <summary>Name in the table.</summary>
    public required string Name { get; init; }

    /// <summary>What its structure asks of a policy.</summary>
    public required string Asks { get; init; }

    /// <summary>The engine.</summary>
    public required Engine Engine { get; init; }

    /// <summary>Its tests, causes and limits.</summary>
    public required Knowledge Knowledge { get; init; }

    /// <summary>What has been read before the first step.</summary>
    public required ImmutableArray<Reading> Given { get; init; }

    /// <summary>What may be read, each once, in the fixed order of a checklist.</summary>
    public required ImmutableArray<WorldStep> Steps { get; init; }
}

/// <summary>One test at its one place.</summary>
/// <param name="Test">The test's id.</param>
/// <param name="At">Where.</param>
public sealed record WorldStep(string Test, Place At);
