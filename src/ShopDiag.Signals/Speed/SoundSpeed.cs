using ShopDiag.Diagnosis;
using ShopDiag.Signals.Audio;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Engine speed over time from the sound of an engine: all orders vote in spectra of a second, the best way through the votes is taken, and the sound is then laid out over the crank
/// angle to make it fine. docs/listening.md says how well it does and where it fails.
/// </summary>
public static class SoundSpeed
{
    /// <summary>Points of the trace lie this many seconds apart.</summary>
    public const double HopSeconds = 0.05;

    /// <summary>Longest recording that is analysed, in seconds; bounds the memory at some 60 MB.</summary>
    public const double LongestSeconds = 900;

    /// <summary>Shortest recording that makes sense, in seconds.</summary>
    public const double ShortestSeconds = 2;

    /// <summary>
    /// Working cycles in a window: fewer cannot hold the half orders apart at 600 rpm, more are too slow for the falls. 6, 8 and 10 were measured.
    /// </summary>
    private const double WindowCycles = 6;

    private const double ShortestWindow = 0.6;
    private const double LongestWindow = 1.6;

    /// <summary>The usual speed is assumed where nobody knows it: a warm idle (common practice).</summary>
    internal const double UsualRpm = 800;

    /// <summary>Reads a WAV file to its end and follows the speed; the error says what is wrong with the file.</summary>
    public static Parsed<SpeedTrace> Read(Stream wav, EngineToHear engine)
    {
        var opened = WavReader.Open(wav);
        if (opened.Error is { } error)
        {
            return error;
        }

        var reader = opened.Value;
        var bands = new SoundBands(reader.Format.SampleRate);
        var block = new float[8192];
        while (reader.Read(block) is > 0 and var count)
        {
            bands.Feed(block.AsSpan(0, count));
            if (bands.Seconds > LongestSeconds)
            {
                return new InputError("data", $"The recording is longer than {LongestSeconds / 60} minutes. Cut out the balance run.");
            }
        }

        return bands.Seconds < ShortestSeconds
            ? new InputError("data", FormattableString.Invariant($"The recording is {bands.Seconds:0.0} s long; it takes {ShortestSeconds} s at least."))
            : Follow(bands, engine) with { Remarks = reader.CutShort ? ["The file ends before the place it names: the recording was cut short."] : [] };
    }

    /// <summary>Follows the speed in samples (mono, -1 to 1) at a rate of 8000 to 96000 a second; at least <see cref="ShortestSeconds"/>, at most <see cref="LongestSeconds"/> of them.</summary>
    public static SpeedTrace Follow(ReadOnlySpan<float> samples, int sampleRate, EngineToHear engine)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples.Length, ShortestSeconds * sampleRate, nameof(samples));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(samples.Length, LongestSeconds * sampleRate, nameof(samples));
        var bands = new SoundBands(sampleRate);
        bands.Feed(samples);
        return Follow(bands, engine);
    }

    internal static SpeedTrace Follow(SoundBands heard, EngineToHear engine)
    {
        var bands = heard.WithoutHum();
        var usual = engine.RoughRpm ?? UsualRpm;
        var grid = engine.RoughRpm is { } rough ? SpeedGrid.Between(0.45 * rough, 1.6 * rough) : SpeedGrid.Between(400, 3300);
        var voice = new SoundVotes(bands, engine.Cylinders, grid, usual, WindowSeconds(usual));
        return new TraceMaker(bands, engine, grid, voice, Votes(bands, grid, voice)).Make();
    }

    private static VoteTable Votes(SoundBands bands, SpeedGrid grid, SoundVotes voice)
    {
        var direct = SteadyLines.In(bands.Direct, bands.Seconds, 70, 1000);
        var envelope = SteadyLines.In(bands.Envelope, bands.Seconds, 120, 350);
        var votes = new VoteTable((int)(bands.Seconds / HopSeconds), grid.Count);
        var loudness = new Loudness(bands.Envelope, votes.Rows, HopSeconds);
        for (var i = 0; i < votes.Rows; i++)
        {
            voice.At(i * HopSeconds, direct, envelope, votes[i]);
            var weight = loudness.Weight(i);
            foreach (ref var vote in votes[i])
            {
                vote *= weight;
            }
        }

        return votes;
    }

    private static double WindowSeconds(double rpm) => Math.Clamp(WindowCycles / EngineToHear.CycleHz(rpm), ShortestWindow, LongestWindow);
}
