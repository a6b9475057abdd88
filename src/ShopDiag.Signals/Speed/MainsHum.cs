using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Takes the hum of the mains out of a band. Only what keeps one frequency and its phase for seconds goes: an engine that fires at 60 Hz (eight cylinders at 900 rpm) wanders by more than that and stays, where
/// a notch would take it too.
/// </summary>
internal static class MainsHum
{
    /// <summary>Mains are looked for in stretches of about this many seconds: long enough to tell their lines from an engine's, short enough for a grid that drifts.</summary>
    private const double StretchSeconds = 24;

    /// <summary>A shorter recording cannot tell them apart.</summary>
    private const double LeastSeconds = 10;

    /// <summary>The hum is fitted anew over this long: it follows lamps and chargers that come and go.</summary>
    private const double BlockSeconds = 6;

    /// <summary>How far a grid is off its nominal frequency, and the steps in which it is searched, hertz.</summary>
    private const double OffHz = 0.3;

    private const double StepHz = 0.004;

    /// <summary>Neper over the lines within some hertz: noise hardly ever reaches it.</summary>
    private const double Over = 1.6;

    /// <summary>More says nothing more; but a bound within the width of a line would leave its middle unknown.</summary>
    private const double Highest = 12;

    private const double NeighboursHz = 12;

    /// <summary>With fewer lines it is no hum.</summary>
    private const int LeastLines = 3;

    private static readonly double[] Nominal = [50, 60];

    /// <summary>Takes it out in place, up to <paramref name="toHz"/>. Leaves short recordings, and those without hum, as they are.</summary>
    public static void TakeOut(Band band, double toHz)
    {
        var samples = band.Span;
        if (samples.Length < LeastSeconds * band.Rate)
        {
            return;
        }

        var finder = new Finder(band.Rate, toHz);
        var stretch = finder.Samples;
        var block = (int)(BlockSeconds * band.Rate / 2) * 2;
        var hums = new List<Hum[]>();
        for (var from = 0; from == 0 || from + (stretch / 2) < samples.Length; from += stretch / 2)
        {
            hums.Add(finder.In(samples.Slice(from, Math.Min(stretch, samples.Length - from))));
        }

        if (hums.TrueForAll(h => h.Length == 0))
        {
            return;
        }

        // Half blocks overlap, and their windows add up to one.
        var heard = samples.ToArray();
        var shape = Windows.Hann(block);
        for (var start = -block / 2; start < samples.Length; start += block / 2)
        {
            var middle = start + (block / 2) - (stretch / 2);
            var at = Math.Clamp((int)Math.Round(middle / (stretch / 2.0), MidpointRounding.AwayFromZero), 0, hums.Count - 1);
            foreach (var hum in hums[at])
            {
                TakeOut(heard, samples, start, shape, 2 * Math.PI * hum.Hz / band.Rate);
            }
        }
    }

    /// <summary>Fits one line to a windowed block and takes it out of it.</summary>
    private static void TakeOut(ReadOnlySpan<float> heard, Span<float> samples, int start, float[] shape, double turn)
    {
        var (from, to) = (Math.Max(0, -start), Math.Min(shape.Length, heard.Length - start));
        var (stepSin, stepCos) = Math.SinCos(turn);
        double cos = 1, sin = 0, re = 0, im = 0, all = 0;
        for (var i = from; i < to; i++)
        {
            var weighed = shape[i] * heard[start + i];
            re += weighed * cos;
            im += weighed * sin;
            all += shape[i];
            (cos, sin) = ((cos * stepCos) - (sin * stepSin), (cos * stepSin) + (sin * stepCos));
        }

        if (all <= 0)
        {
            return;
        }

        (re, im, cos, sin) = (2 * re / all, 2 * im / all, 1, 0);
        for (var i = from; i < to; i++)
        {
            samples[start + i] -= (float)(shape[i] * ((re * cos) + (im * sin)));
            (cos, sin) = ((cos * stepCos) - (sin * stepSin), (cos * stepSin) + (sin * stepCos));
        }
    }

    /// <summary>A line of it.</summary>
    private readonly record struct Hum(double Hz);

    /// <summary>Finds the lines in a stretch.</summary>
    private sealed class Finder
    {
        private readonly double _rate;
        private readonly double _toHz;
        private readonly float[] _shape;
        private readonly float[] _window;
        private readonly float[] _log;
        private readonly RealFft _fft;
        private readonly Whitening _whitening;

        public Finder(double rate, double toHz)
        {
            (_rate, _toHz) = (rate, toHz);
            Samples = (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)(StretchSeconds * rate / 1.5));
            (_shape, _window, _fft) = (Windows.Hann(Samples), new float[Samples], new(2 * Samples));
            _log = new float[_fft.Size / 2];
            _whitening = new((int)(NeighboursHz * _fft.Size / rate));
        }

        public int Samples { get; }

        public Hum[] In(ReadOnlySpan<float> stretch)
        {
            _window.AsSpan().Clear();
            var mean = 0f;
            foreach (var sample in stretch)
            {
                mean += sample / stretch.Length;
            }

            for (var i = 0; i < stretch.Length; i++)
            {
                _window[i] = (stretch[i] - mean) * _shape[i];
            }

            _fft.Power(_window, _log);
            foreach (ref var value in _log.AsSpan())
            {
                value = 0.5f * MathF.Log(value + 1e-18f);
            }

            _whitening.Apply(_log);
            return [.. Nominal.Select(Lines).MaxBy(l => l.Sum)!.Found];
        }

        /// <summary>The multiples of a grid's frequency that stand out, where they stand out most.</summary>
        private (double Sum, List<Hum> Found) Lines(double nominal)
        {
            var (best, at) = (0.0, nominal);
            for (var hz = nominal - OffHz; hz <= nominal + OffHz; hz += StepHz)
            {
                var sum = 0.0;
                for (var order = 1; order * hz < _toHz; order++)
                {
                    sum += Math.Clamp(Height(order * hz), 0, Highest);
                }

                (best, at) = sum > best ? (sum, hz) : (best, at);
            }

            var found = Enumerable.Range(1, (int)(_toHz / at)).Where(order => Height(order * at) > Over).Select(order => new Hum(order * at)).ToList();
            return found.Count >= LeastLines ? (best, found) : (0, []);
        }

        private double Height(double hz)
        {
            var at = hz * _fft.Size / _rate;
            var bin = Math.Min((int)at, _log.Length - 2);
            return _log[bin] + ((at - bin) * (_log[bin + 1] - _log[bin]));
        }
    }
}
