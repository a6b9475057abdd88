using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.VirtualCars.Cars;
using ShopDiag.VirtualCars.Cars.Garage;
using ShopDiag.VirtualCars.Cars.Physics;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars;

/// <summary>The command line.</summary>
internal sealed record Options
{
    /// <summary>How it is called.</summary>
    public const string Usage =
        """
        Measures ways to find a misfire on virtual cars with hidden faults.
          --cars N          how many cars (100)
          --seed S          the same seed gives the same cars (1)
          --maker NAME      one (from physics) or two (from severities, kept apart) (one)
          --error LEVEL     careful, ordinary, hurried (ordinary)
          --faults N        1 or 2 hidden faults a car (1)
          --engine NAME     only this engine
          --policy TEXT     only policies whose name holds this (all); the first two stand in every table
          --out FILE        where the tables go (standard output)
          --parallel N      cars at a time (2)
          --failures yes    also lists the cars that were not found right
          --trace INDEX     the whole dialogue of one car instead of tables
          --worlds yes      small worlds against the exact optimum instead of cars
        """;

    public int Cars { get; init; } = 100;

    public int Seed { get; init; } = 1;

    public ICarMaker Maker { get; init; } = new PhysicsCarMaker();

    public ReaderError Error { get; init; } = ReaderError.Ordinary;

    public int Faults { get; init; } = 1;

    public ImmutableArray<BenchEngine> Engines { get; init; } = BenchEngines.All;

    public bool Failures { get; init; }

    public string Policy { get; init; } = "";

    public string? Out { get; init; }

    public int Parallel { get; init; } = 2;

    public int? Trace { get; init; }

    public bool Worlds { get; init; }

    public Plan Plan => new(Cars, Seed, Error, Faults, Engines);

    /// <summary>Reads the command line; throws <see cref="FormatException"/> with words for the person who typed it.</summary>
    public static Options Parse(IReadOnlyList<string> arguments)
    {
        var options = new Options();
        for (var i = 0; i < arguments.Count; i += 2)
        {
            options = i + 1 < arguments.Count
                ? options.With(arguments[i], arguments[i + 1])
                : throw new FormatException($"{arguments[i]} needs a value.");
        }

        return options;
    }

    private Options With(string name, string value) => name switch
    {
        "--cars" => this with { Cars = Number(value, 1, 1000000) },
        "--seed" => this with { Seed = Number(value, 0, int.MaxValue) },
        "--maker" => this with { Maker = MakerOf(value) },
        "--error" => this with { Error = Enum.TryParse<ReaderError>(value, ignoreCase: true, out var error) ? error : throw new FormatException($"There is no reader '{value}'.") },
        "--faults" => this with { Faults = Number(value, 1, 2) },
        "--engine" => this with { Engines = [BenchEngines.All.FirstOrDefault(e => e.Name == value) ?? throw new FormatException($"There is no engine '{value}': {string.Join(", ", BenchEngines.All.Select(e => e.Name))}.")] },
        "--failures" => this with { Failures = value == "yes" },
        "--policy" => this with { Policy = value },
        "--out" => this with { Out = value },
        "--parallel" => this with { Parallel = Number(value, 1, 64) },
        "--worlds" => this with { Worlds = value == "yes" },
        "--trace" => this with { Trace = Number(value, 0, int.MaxValue) },
        _ => throw new FormatException($"Unknown option {name}."),
    };

    private static ICarMaker MakerOf(string value) => value switch
    {
        "one" => new PhysicsCarMaker(),
        "two" => new GarageMaker(),
        _ => throw new FormatException($"There is no maker '{value}'."),
    };

    private static int Number(string value, int min, int max) =>
        int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= min && number <= max
            ? number
            : throw new FormatException($"'{value}' must be a whole number from {min} to {max}.");
}
