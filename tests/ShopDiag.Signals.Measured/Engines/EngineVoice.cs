namespace ShopDiag.Signals.Measured.Engines;

/// <summary>
/// The sound that follows from the firings. Exhaust: a blow-down and a push-out pulse of flow after the exhaust valve opens at 130 degrees, radiated as the change of flow, each
/// cylinder through a runner of its own length and gain, then a pipe of 2.5 to 4 m with an open end. Bay: each firing strikes four damped resonances from 0.8 to 3.4 kHz, each
/// valve closes with a click, and the air hisses with the firings. A cylinder held off still pumps: a quarter of the exhaust pulse and no strike. Shapes from memory.
/// </summary>
internal sealed class EngineVoice
{
    private const double SoundMetresPerSecond = 500;
    private readonly int _rate;
    private readonly Random _random;
    private readonly double[] _runnerDelay;
    private readonly double[] _runnerGain;
    private readonly double[] _strikeGain;
    private readonly double[] _resonances;

    private EngineVoice(int cylinders, int rate, int seed)
    {
        (_rate, _random) = (rate, new(seed));
        _runnerDelay = [.. Enumerable.Range(0, cylinders).Select(_ => 0.004 * _random.NextDouble())];
        _runnerGain = [.. Enumerable.Range(0, cylinders).Select(_ => 0.75 + (0.5 * _random.NextDouble()))];
        _strikeGain = [.. Enumerable.Range(0, cylinders).Select(_ => 0.7 + (0.6 * _random.NextDouble()))];
        _resonances = [.. new[] { 900.0, 1600, 2400, 3200 }.Select(f => f * (0.9 + (0.2 * _random.NextDouble())))];
    }

    /// <summary>The sound of a run as the microphone hears it, root mean square 0.1.</summary>
    public static float[] Sound(CrankRun run, int cylinders, Microphone microphone, int rate, int seed)
    {
        var voice = new EngineVoice(cylinders, rate, seed);
        var count = (int)(run.Seconds * rate);
        var exhaust = new float[count];
        var bay = new float[count];
        foreach (var firing in run.Firings)
        {
            voice.Exhaust(firing, exhaust);
            voice.Strike(firing, bay);
        }

        voice.Pipe(exhaust);
        voice.Hiss(run, bay);
        Sounds.Level(exhaust, 1);
        Sounds.Level(bay, 1);
        var (atExhaust, atBay) = microphone.AtBay ? (0.4f, 1f) : (1f, 0.2f);
        var heard = new float[count];
        for (var i = 0; i < count; i++)
        {
            heard[i] = (atExhaust * exhaust[i]) + (atBay * bay[i]);
        }

        Sounds.Room(heard, rate, microphone, seed);
        Sounds.HighPass(heard, rate, microphone.RollOffHz);
        Sounds.Level(heard, 0.1);
        return heard;
    }

    private void Exhaust(Firing firing, float[] sound)
    {
        var degree = Math.PI / 180 / Math.Max(20, firing.Speed);
        var opens = firing.Seconds + (130 * degree) + _runnerDelay[firing.Cylinder];
        var charge = _runnerGain[firing.Cylinder] * (0.25 + (0.75 * Math.Pow(firing.Work, 0.8)));
        Pulse(sound, opens, 55 * degree, charge);
        Pulse(sound, opens + (50 * degree), 170 * degree, 0.5 * charge);
    }

    /// <summary>A raised-cosine pulse of flow, as the change of it.</summary>
    private void Pulse(float[] sound, double start, double width, double size)
    {
        for (var i = Math.Max(0, (int)(start * _rate)); i < Math.Min(sound.Length, (int)((start + width) * _rate)); i++)
        {
            var x = ((double)i / _rate) - start;
            sound[i] += (float)(size / width * 0.004 * Math.Sin(2 * Math.PI * x / width));
        }
    }

    private void Strike(Firing firing, float[] sound)
    {
        var degree = Math.PI / 180 / Math.Max(20, firing.Speed);
        foreach (var hz in _resonances)
        {
            Ring(sound, firing.Seconds + (12 * degree), hz, 0.003, _strikeGain[firing.Cylinder] * firing.Work * (0.8 + (0.4 * _random.NextDouble())));
        }

        foreach (var (closes, gain) in new[] { (-130.0, 0.25), (370.0, 0.3) })
        {
            Ring(sound, firing.Seconds + (closes * degree), 2900, 0.0012, gain * (0.7 + (0.6 * _random.NextDouble())));
        }
    }

    private void Ring(float[] sound, double start, double hz, double decay, double size)
    {
        var from = Math.Max(0, (int)(start * _rate));
        for (var i = from; i < Math.Min(sound.Length, from + (int)(6 * decay * _rate)); i++)
        {
            var x = ((double)i / _rate) - start;
            sound[i] += (float)(size * Math.Exp(-x / decay) * Math.Sin(2 * Math.PI * hz * x));
        }
    }

    private void Pipe(float[] sound)
    {
        var delay = (int)(2 * (2.5 + (1.5 * _random.NextDouble())) / SoundMetresPerSecond * _rate);
        float low = 0;
        for (var i = delay; i < sound.Length; i++)
        {
            // The open end turns the wave over and lets the high part out.
            low += 0.4f * (sound[i - delay] - low);
            sound[i] -= 0.55f * low;
        }
    }

    private void Hiss(CrankRun run, float[] sound)
    {
        var (next, level, tone) = (0, 0.0, 0.0);
        for (var i = 0; i < sound.Length; i++)
        {
            while (next < run.Firings.Count && run.Firings[next].Seconds <= (double)i / _rate)
            {
                level += 0.5 + (0.5 * run.Firings[next++].Work);
            }

            level *= 1 - (1 / (0.012 * _rate));
            tone += 0.5 * (Sounds.Gauss(_random) - tone);
            sound[i] += (float)(0.06 * (0.5 + level) * tone);
        }
    }
}
