namespace ShopDiag.Signals.Measured.Engines;

/// <summary>Where the tablet lies and what it and the room do to the sound.</summary>
internal sealed record Microphone
{
    /// <summary>At the open bay (true) or behind the car at the tailpipe.</summary>
    public bool AtBay { get; init; } = true;

    /// <summary>Corner of the roll-off at low frequencies, 12 dB an octave, hertz.</summary>
    public double RollOffHz { get; init; } = 100;

    /// <summary>Time in which the room dies away by 60 dB, seconds; 0 for none.</summary>
    public double Room { get; init; } = 0.5;

    /// <summary>Amplitude of what the room adds beside the direct sound.</summary>
    public double RoomShare { get; init; } = 0.35;

    /// <summary>By how many decibels the loudest tenth of a percent is clipped.</summary>
    public double ClippedDb { get; init; }

    /// <summary>One that a seed picks.</summary>
    public static Microphone Some(int seed)
    {
        var random = new Random(seed * 31 + 7);
        return new() { AtBay = random.Next(2) == 0, RollOffHz = 90 + (60 * random.NextDouble()), Room = 0.2 + (0.7 * random.NextDouble()), RoomShare = 0.2 + (0.4 * random.NextDouble()) };
    }
}
