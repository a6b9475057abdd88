using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Signals.Measured.Noise;

/// <summary>The noises of a shop, made of numbers.</summary>
internal static class ShopSounds
{
    /// <summary>Equal power in each octave: white noise through six one-pole filters spread over the band.</summary>
    public static float[] Pink(int count, Random random)
    {
        var poles = new[] { 0.99886, 0.99332, 0.96900, 0.86650, 0.55000, -0.7616 };
        var gains = new[] { 0.0555179, 0.0750759, 0.1538520, 0.3104856, 0.5329522, -0.0168980 };
        var states = new double[poles.Length];
        var noise = new float[count];
        for (var i = 0; i < count; i++)
        {
            var white = Sounds.Gauss(random);
            var sum = 0.5362 * white;
            for (var p = 0; p < poles.Length; p++)
            {
                states[p] = (poles[p] * states[p]) + (gains[p] * white);
                sum += states[p];
            }

            noise[i] = (float)sum;
        }

        return noise;
    }

    /// <summary>The mains and its harmonics up to the twelfth, the odd ones of three stronger; the frequency off by up to 0.03 Hz.</summary>
    public static float[] Hum(int count, int rate, double hz, Random random)
    {
        var hum = new float[count];
        hz += 0.06 * (random.NextDouble() - 0.5);
        for (var order = 1; order <= 12; order++)
        {
            var (size, phase) = ((order % 2 == 0 ? 1.0 : 0.6) / order, 2 * Math.PI * random.NextDouble());
            for (var i = 0; i < count; i++)
            {
                hum[i] += (float)(size * Math.Sin((2 * Math.PI * hz * order * i / rate) + phase));
            }
        }

        return hum;
    }

    /// <summary>Rush of air with the tone of the blades and its second and third order.</summary>
    public static float[] Fan(int count, int rate, Random random)
    {
        var fan = Pink(count, random);
        Sounds.Level(fan, 1);
        var hz = 80 + (60 * random.NextDouble());
        for (var i = 0; i < count; i++)
        {
            var turn = 2 * Math.PI * hz * i / rate;
            fan[i] += (float)((0.5 * Math.Sin(turn)) + (0.25 * Math.Sin(2 * turn)) + (0.15 * Math.Sin(3 * turn)));
        }

        return fan;
    }

    /// <summary>Syllables of a voice (90 to 220 Hz, gliding, three formants) in sentences with pauses.</summary>
    public static float[] Speech(int count, int rate, Random random)
    {
        var speech = new float[count];
        for (var at = (int)(rate * random.NextDouble()); at < count;)
        {
            var voice = 90 + (130 * random.NextDouble());
            for (var syllables = 5 + random.Next(12); syllables > 0 && at < count; syllables--)
            {
                at += Syllable(speech, at, rate, voice * (0.85 + (0.3 * random.NextDouble())), random);
            }

            at += (int)(rate * (0.5 + (4 * random.NextDouble())));
        }

        return speech;
    }

    /// <summary>Blows on metal, each a handful of damped tones.</summary>
    public static float[] Metal(int count, int rate, Random random)
    {
        var metal = new float[count];
        for (var at = (int)(rate * random.NextDouble()); at < count; at += (int)(rate * (0.3 + (3 * random.NextDouble()))))
        {
            for (var tone = 0; tone < 6; tone++)
            {
                var (hz, decay, size) = (400 + (4000 * random.NextDouble()), 0.03 + (0.25 * random.NextDouble()), random.NextDouble());
                for (var i = at; i < Math.Min(count, at + (int)(4 * decay * rate)); i++)
                {
                    var x = (double)(i - at) / rate;
                    metal[i] += (float)(size * Math.Exp(-x / decay) * Math.Sin(2 * Math.PI * hz * x));
                }
            }
        }

        return metal;
    }

    /// <summary>
    /// A two-cylinder compressor on the mains, 15 s on and 10 s off, its pulse rate anywhere from 15 % under to 15 % over the engine's firing frequency; its speed keeps within 0.1 %.
    /// </summary>
    public static float[] Compressor(int count, int rate, double firingHz, Random random)
    {
        var compressor = new float[count];
        var pulses = firingHz * (0.85 + (0.3 * random.NextDouble()));
        var (phase, gain, start) = (0.0, 0.8 + (0.2 * random.NextDouble()), 25 * random.NextDouble());
        for (var i = 0; i < count; i++)
        {
            var t = (double)i / rate;
            phase += pulses * (1 + (0.001 * Math.Sin(2 * Math.PI * t / 7))) / rate;
            var on = (t + start) % 25 < 15;
            var x = phase % 1;
            var odd = (int)phase % 2 == 0 ? 1 : gain;
            compressor[i] = on ? (float)(odd * Math.Exp(-x * 6) * (Math.Sin(2 * Math.PI * 6 * x) + (0.4 * Sounds.Gauss(random)))) : 0;
        }

        Sounds.HighPass(compressor, rate, 100);
        return compressor;
    }

    /// <summary>An impact wrench: bursts of half a second to two, 22 to 32 blows a second, in the hiss of its air; every few seconds.</summary>
    public static float[] AirTool(int count, int rate, Random random)
    {
        var tool = new float[count];
        for (var at = (int)(3 * rate * random.NextDouble()); at < count; at += (int)(rate * (2 + (4 * random.NextDouble()))))
        {
            var (blows, end) = (22 + (10 * random.NextDouble()), Math.Min(count, at + (int)(rate * (0.5 + (1.5 * random.NextDouble())))));
            for (var phase = 0.0; at < end; at++)
            {
                phase += blows * (1 + (0.05 * Sounds.Gauss(random) / Math.Sqrt(rate))) / rate;
                tool[at] = (float)(((0.15 + Math.Exp(-(phase % 1) * 12)) * Sounds.Gauss(random)) + (Math.Exp(-(phase % 1) * 8) * Math.Sin(2 * Math.PI * 1300 * (phase % 1) / blows)));
            }
        }

        return tool;
    }

    private static int Syllable(float[] speech, int at, int rate, double hz, Random random)
    {
        var length = (int)(rate * (0.1 + (0.15 * random.NextDouble())));
        var formants = new[] { 300 + (500 * random.NextDouble()), 900 + (1200 * random.NextDouble()), 2500 };
        var glide = 0.3 * (random.NextDouble() - 0.5);
        var phase = 0.0;
        for (var i = 0; i < length && at + i < speech.Length; i++)
        {
            var x = (double)i / length;
            phase += hz * (1 + (glide * x)) / rate;
            var within = phase % 1 / hz;
            var sum = formants.Sum(f => Math.Exp(-within * 250) * Math.Sin(2 * Math.PI * f * within) / (1 + (f / 1500)));
            speech[at + i] += (float)(Math.Sin(Math.PI * x) * sum);
        }

        return length + (int)(rate * 0.05 * random.NextDouble());
    }
}
