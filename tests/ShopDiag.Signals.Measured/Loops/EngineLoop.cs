using System.Globalization;
using ShopDiag.Signals.Audio;

namespace ShopDiag.Signals.Measured.Loops;

/// <summary>A short recording of a real engine, made to be played round and round. The sound files are no part of the project; docs/listening.md says where they come from.</summary>
/// <param name="Name">Name of the file.</param>
/// <param name="Cylinders">Cylinders of the engine, by the name of the file or the vehicle it belongs to.</param>
/// <param name="Samples">Mono, -1 to 1.</param>
/// <param name="Rate">Samples a second.</param>
internal sealed record EngineLoop(string Name, int Cylinders, float[] Samples, int Rate)
{
    private const string List = "ShopDiag.Signals.Measured.Loops.loops.csv";

    /// <summary>The loops of the list that lie in a folder or below it, in the order of the list; those that are not there are left out.</summary>
    public static IEnumerable<EngineLoop> In(string folder)
    {
        if (!Directory.Exists(folder))
        {
            throw new FormatException($"There is no folder {folder}.");
        }

        var files = Directory.GetFiles(folder, "*.wav", SearchOption.AllDirectories);
        return from line in Lines()
               let cells = line.Split(',')
               let found = Array.Find(files, f => f.Replace('\\', '/').EndsWith("/" + cells[0], StringComparison.Ordinal))
               where found is not null
               select Read(found, int.Parse(cells[2], CultureInfo.InvariantCulture));
    }

    private static string[] Lines()
    {
        using var list = new StreamReader(typeof(EngineLoop).Assembly.GetManifestResourceStream(List)!);
        return list.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries)[1..];
    }

    private static EngineLoop Read(string path, int cylinders)
    {
        using var file = File.OpenRead(path);
        var opened = WavReader.Open(file);
        if (opened.Error is { } error)
        {
            throw new FormatException($"{path}: {error.Message}");
        }

        var samples = new List<float>();
        var block = new float[8192];
        while (opened.Value.Read(block) is > 0 and var count)
        {
            samples.AddRange(block.AsSpan(0, count));
        }

        return new(Path.GetFileName(path), cylinders, [.. samples], opened.Value.Format.SampleRate);
    }
}
