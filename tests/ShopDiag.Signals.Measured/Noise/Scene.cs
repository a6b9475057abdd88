using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Signals.Measured.Noise;

/// <summary>What else sounds in the shop. Levels in decibels over the engine (root mean square, as recorded); null for silent.</summary>
/// <param name="Name">As the tables call it.</param>
internal sealed record Scene(string Name)
{
    public double? HumDb { get; init; }

    public double MainsHz { get; init; } = 60;

    public double? FanDb { get; init; }

    public double? SpeechDb { get; init; }

    public double? MetalDb { get; init; }

    public double? CompressorDb { get; init; }

    public double? AirToolDb { get; init; }

    public double ClippedDb { get; init; }

    public static Scene Clean { get; } = new("clean");

    public static Scene Shop { get; } = new("shop") { HumDb = -6, FanDb = -6, SpeechDb = -3, MetalDb = -3 };

    public static Scene Compressor { get; } = Shop with { Name = "shop + compressor", CompressorDb = -6 };

    public static Scene AirTools { get; } = Shop with { Name = "shop + air tools", AirToolDb = -3 };

    public static Scene Clipped { get; } = Shop with { Name = "shop, clipped 20 dB", ClippedDb = 20 };

    public static Scene[] All { get; } = [Clean, Shop, Compressor, AirTools, Clipped];

    /// <summary>The engine's sound with the scene and broadband pink noise at a signal-to-noise ratio over the whole band.</summary>
    public float[] Heard(float[] engine, int rate, double snrDb, double idleRpm, int cylinders, int seed)
    {
        var random = new Random((seed * 7919) + 13);
        var reference = Sounds.Rms(engine);
        var heard = (float[])engine.Clone();
        void Add(double? db, Func<float[]> make)
        {
            if (db is { } level)
            {
                Sounds.Add(heard, make(), reference, level);
            }
        }

        var count = engine.Length;
        Add(-snrDb, () => ShopSounds.Pink(count, random));
        Add(HumDb, () => ShopSounds.Hum(count, rate, MainsHz, random));
        Add(FanDb, () => ShopSounds.Fan(count, rate, random));
        Add(SpeechDb, () => ShopSounds.Speech(count, rate, random));
        Add(MetalDb, () => ShopSounds.Metal(count, rate, random));
        Add(CompressorDb, () => ShopSounds.Compressor(count, rate, idleRpm * cylinders / 120, random));
        Add(AirToolDb, () => ShopSounds.AirTool(count, rate, random));
        if (ClippedDb > 0)
        {
            Sounds.Clip(heard, ClippedDb);
        }

        return heard;
    }
}
