using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Signals.Measured.Loops;

/// <summary>Plays a loop along the motion of a crank: for each cycle that the crank turns, one cycle of the loop. A cylinder held off goes on sounding; only the speed says that it is off.</summary>
internal static class LoopVoice
{
    /// <summary>What the microphone hears, root mean square 0.1: the warped loop in a room, through the microphone's roll-off.</summary>
    public static float[] Sound(EngineLoop loop, OwnSpeed own, CrankRun run, Microphone microphone, int rate, int seed)
    {
        var heard = Warped(loop, own, run, rate);
        Sounds.Room(heard, rate, microphone, seed);
        Sounds.HighPass(heard, rate, microphone.RollOffHz);
        Sounds.Level(heard, 0.1);
        return heard;
    }

    /// <summary>The loop alone, stretched and squeezed. Whole cycles of it are used, and half a cycle is faded over where the end meets the beginning.</summary>
    public static float[] Warped(EngineLoop loop, OwnSpeed own, CrankRun run, int rate)
    {
        var (first, cycle) = (own.From * loop.Rate, own.CycleSeconds * loop.Rate);
        var fade = cycle / 2;
        var length = cycle * Math.Floor((((own.To - own.From) * loop.Rate) - fade - 4) / cycle);
        ArgumentOutOfRangeException.ThrowIfLessThan(length, cycle, nameof(own));
        var warped = new float[(int)(run.Seconds * rate)];
        for (var i = 0; i < warped.Length; i++)
        {
            var at = run.Angle((double)i / rate) / (4 * Math.PI) * cycle % length;
            var over = Math.Max(0, (at - length + fade) / fade);
            var here = At(loop.Samples, first + fade + at);
            warped[i] = (float)(over == 0 ? here : ((1 - over) * here) + (over * At(loop.Samples, first + fade + at - length)));
        }

        return warped;
    }

    /// <summary>Between the samples: a cubic through four of them (Catmull and Rom).</summary>
    private static double At(float[] samples, double at)
    {
        var i = Math.Clamp((int)at, 1, samples.Length - 3);
        var (x, a, b, c, d) = (at - i, samples[i - 1], samples[i], samples[i + 1], samples[i + 2]);
        return b + (0.5 * x * (c - a + (x * ((2 * a) - (5 * b) + (4 * c) - d + (x * ((3 * (b - c)) + d - a))))));
    }
}
