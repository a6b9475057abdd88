using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.VirtualCars.Cars;

/// <summary>How carefully the technician reads, writes and listens.</summary>
public enum ReaderError
{
    /// <summary>Never a slip; only the instruments scatter.</summary>
    Careful,

    /// <summary>A slip now and then, as on a working day.</summary>
    Ordinary,

    /// <summary>In a hurry: slips are about three times as frequent and the scatter is larger.</summary>
    Hurried,
}

/// <summary>A fault that is hidden in a car, by the stable id of the cause and its place.</summary>
public sealed record HiddenFault(string Cause, Place At);

/// <summary>A car with hidden faults. Readings come from its physics with noise, never from the rule tables of the knowledge.</summary>
public interface IVirtualCar
{
    /// <summary>The engine.</summary>
    Engine Engine { get; }

    /// <summary>What is really wrong; empty for a car whose engine is sound (the shake comes from elsewhere).</summary>
    ImmutableArray<HiddenFault> Faults { get; }

    /// <summary>What the car comes in with: codes, lamp, conditions.</summary>
    Concern Concern { get; }

    /// <summary>Tools that the shop does not own, since no reading of theirs can be had on this car.</summary>
    ImmutableArray<string> MissingTools => [];

    /// <summary>
    /// Takes one reading of a test at a place. Repeating it gives fresh instrument scatter and fresh slips, but a fault that hides stays hidden as
    /// its physics says. Null when the test cannot be taken on this car.
    /// </summary>
    /// <param name="test">The test, whose fields say what a reading must hold.</param>
    /// <param name="at">A cylinder, bank or the engine, as the test takes it.</param>
    /// <param name="stage">Before or after a repair; written into the reading.</param>
    Reading? Take(BenchTest test, Place at, Stage stage);

    /// <summary>Repairs a cause at a place; a hidden fault that this mends is gone from the readings that follow. True when it mended one.</summary>
    bool Repair(string cause, Place at);

    /// <summary>True while a hidden fault is left that makes it misfire.</summary>
    bool StillMisfires { get; }
}

/// <summary>Draws cars. The same seed gives the same cars.</summary>
public interface ICarMaker
{
    /// <summary>Name in the tables.</summary>
    string Name { get; }

    /// <summary>Draws one car with so many hidden faults (1 or 2).</summary>
    IVirtualCar Make(Engine engine, int faults, ReaderError error, Random random);
}
