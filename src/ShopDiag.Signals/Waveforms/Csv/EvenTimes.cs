using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>Makes evenly spaced samples of rows with times: as they are where the times are even, else by straight lines between them.</summary>
internal sealed record EvenTimes(double SampleRate, float[][] Samples, ImmutableArray<string> Remarks)
{
    /// <summary>How far a row may be from its even place, steps: less than a sample, as printed times of few digits are.</summary>
    private const double OffPlace = 0.75;

    /// <summary>The same in steps of a clock that is coarser than the samples, with room for cutting instead of rounding.</summary>
    private const double OffClock = 1.1;

    /// <summary>Wider holes than this many usual steps are gaps: no line is drawn across.</summary>
    private const double WidestHole = 8;

    /// <summary>Even samples may be this many times the rows; beyond it the file is mostly holes.</summary>
    private const double MostTimesTheRows = 4;

    /// <summary>Rows whose steps are looked at for the usual one.</summary>
    private const int StepsLookedAt = 100_000;

    /// <summary>Steps that any instrument writes, seconds, with much room.</summary>
    private const double ShortestStep = 1e-12;

    private const double LongestStep = 1000;

    public static Parsed<EvenTimes> Of(TimeColumn times, IReadOnlyList<SampleBlocks> samples)
    {
        var span = times.Last - times.First;
        if (span <= 0)
        {
            return new InputError("time", "The time never moves on. State the samples a second.");
        }

        var step = span / (times.Count - 1);
        if (step is < ShortestStep or > LongestStep)
        {
            return new InputError("time", FormattableString.Invariant($"The rows would be {step:g3} s apart: the unit of the time column is another. State whether it is s, ms or us."));
        }

        return AreEven(times, step) ? new EvenTimes(1 / step, [.. samples.Select(s => s.Take())], []) : Resampled(times, samples);
    }

    private static bool AreEven(TimeColumn times, double step)
    {
        // The first rows stand in the middle of a tick of the clock.
        var first = 1;
        while (times[first] == times.First)
        {
            first++;
        }

        var clock = times[first] - times.First;
        for (var i = 1; i < times.Count; i++)
        {
            var own = times[i] - times[i - 1];
            clock = own > 0 ? own : clock;
            var bound = Math.Max(OffPlace * step, times.Repeats > 0 ? OffClock * clock : 0);
            if (Math.Abs(times[i] - times.First - (i * step)) > bound)
            {
                return false;
            }
        }

        return true;
    }

    private static Parsed<EvenTimes> Resampled(TimeColumn times, IReadOnlyList<SampleBlocks> samples)
    {
        var step = UsualStep(times);
        var length = ((times.Last - times.First) / step) + 1;
        if (step < ShortestStep || !(length <= Math.Min(MostTimesTheRows * times.Count, WaveformCsv.MostRows)) || length * samples.Count > WaveformCsv.MostSamples)
        {
            return new InputError(WaveformCsv.Line(times.LongestStepLine), FormattableString.Invariant(
                $"The times are too uneven: {times.LongestStep:g4} s pass before this line, where {step:g4} s are usual. Save one unbroken recording a file, or state the samples a second."));
        }

        float[][] even = [.. samples.Select(s => Line(times, s, step, (int)length))];
        return new EvenTimes(1 / step, even, [FormattableString.Invariant($"The times are not even (steps to {times.LongestStep:g3} s, usually {step:g3} s); the samples were set on even times by straight lines between them.")]);
    }

    private static double UsualStep(TimeColumn times)
    {
        var steps = new List<double>();
        var stride = Math.Max(1, times.Count / StepsLookedAt);
        for (var i = 1; i < times.Count; i += stride)
        {
            if (times[i] > times[i - 1])
            {
                steps.Add(times[i] - times[i - 1]);
            }
        }

        return Middle.Of(steps.ToArray());
    }

    private static float[] Line(TimeColumn times, SampleBlocks samples, double step, int length)
    {
        var even = new float[length];
        var row = 0;
        for (var i = 0; i < length; i++)
        {
            var time = times.First + (i * step);
            while (row + 2 < times.Count && times[row + 1] <= time)
            {
                row++;
            }

            var (before, after) = (times[row], times[row + 1]);
            var share = after > before ? Math.Clamp((time - before) / (after - before), 0, 1) : 0;
            even[i] = share < 1e-6 ? samples[row] : share > 1 - 1e-6 ? samples[row + 1]
                : after - before > WidestHole * step ? float.NaN
                : (float)(samples[row] + (share * (samples[row + 1] - samples[row])));
        }

        return even;
    }
}
