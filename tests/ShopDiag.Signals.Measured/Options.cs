using System.Globalization;
using ShopDiag.Signals.Measured.Noise;

namespace ShopDiag.Signals.Measured;

/// <summary>The command line.</summary>
internal sealed record Options
{
    /// <summary>How it is called.</summary>
    public const string Usage =
        """
        Measures how well the speed of synthetic engines is heard in a shop.
          --seeds N         runs for each number of cylinders and idle speed (2)
          --first SEED      first seed (500000; those below were used for tuning)
          --cylinders LIST  such as 3,4,6,8 (3,4,5,6,8,10,12)
          --snr LIST        decibels of the engine over broadband noise (10,0)
          --scene TEXT      only scenes whose name holds this
          --kind KIND       sound, idle, logs, runs: whole guided runs, cranking, or teeth (sound)
          --loops FOLDER    real engine loops (WAV) in the folder, warped along balance runs, clean and in the shop
          --parallel N      runs at a time (2)
          --each yes        also a line for each run
        """;

    public int Seeds { get; init; } = 2;

    public int First { get; init; } = 500000;

    public int[] Cylinders { get; init; } = [3, 4, 5, 6, 8, 10, 12];

    public double[] Snr { get; init; } = [10, 0];

    public Scene[] Scenes { get; init; } = Scene.All;

    public string Kind { get; init; } = "sound";

    /// <summary>Folder of the engine loops; null for the synthetic engines.</summary>
    public string? Loops { get; init; }

    public int Parallel { get; init; } = 2;

    public bool Each { get; init; }

    /// <summary>Reads the command line; throws <see cref="FormatException"/> with words for the person who typed it.</summary>
    public static Options Parse(IReadOnlyList<string> arguments)
    {
        var options = new Options();
        for (var i = 0; i < arguments.Count; i += 2)
        {
            options = i + 1 < arguments.Count ? options.With(arguments[i], arguments[i + 1]) : throw new FormatException($"{arguments[i]} needs a value.");
        }

        return options;
    }

    private Options With(string name, string value) => name switch
    {
        "--seeds" => this with { Seeds = Whole(value) },
        "--first" => this with { First = Whole(value) },
        "--cylinders" => this with { Cylinders = [.. value.Split(',').Select(Whole)] },
        "--snr" => this with { Snr = [.. value.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture))] },
        "--scene" => this with { Scenes = [.. Scene.All.Where(s => s.Name.Contains(value, StringComparison.Ordinal))] },
        "--kind" => this with { Kind = value },
        "--loops" => this with { Kind = "loops", Loops = value },
        "--parallel" => this with { Parallel = Whole(value) },
        "--each" => this with { Each = value == "yes" },
        _ => throw new FormatException($"Unknown option {name}."),
    };

    private static int Whole(string value) => int.Parse(value, NumberStyles.None, CultureInfo.InvariantCulture);
}
