namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>Which tooth each time belongs to, and the time at any angle.</summary>
internal sealed class ToothAngles
{
    /// <summary>More revolutions than this share with a tooth too many or too few: the wheel is another.</summary>
    private const double MostWrong = 0.1;

    private readonly double[] _degrees;
    private readonly double[] _times;

    private readonly double _widest;

    private ToothAngles(double[] degrees, double[] times, int[] places, ToothWheel wheel) =>
        (_degrees, _times, Places, _widest) = (degrees, times, places, (wheel.Missing + 1.5) * wheel.Pitch);

    /// <summary>The place of each tooth on the wheel, from 0, the first after the gap.</summary>
    public int[] Places { get; }

    /// <summary>Seconds of each tooth.</summary>
    public IReadOnlyList<double> Times => _times;

    /// <summary>Degrees of crank of each tooth; multiples of 360 at the first after a gap (of a plain wheel: at the first of all).</summary>
    public IReadOnlyList<double> Degrees => _degrees;

    /// <summary>Numbers the teeth. The problem, where there is one, is in plain words.</summary>
    public static (ToothAngles? Angles, string? Problem) Number(ReadOnlySpan<double> times, ToothWheel wheel, ToothErrors? errors)
    {
        if (times.Length < 3 * wheel.Teeth)
        {
            return (null, "There are too few tooth times: three revolutions at least.");
        }

        for (var i = 1; i < times.Length; i++)
        {
            if (!(times[i] > times[i - 1]) || !double.IsFinite(times[i]))
            {
                return (null, $"The tooth times do not rise at number {i + 1}.");
            }
        }

        return wheel.Missing == 0 ? (Plain(times, wheel, errors), null) : WithGap(times, wheel, errors);
    }

    /// <summary>The time at an angle, by a cubic through the teeth around it; NaN outside, and where teeth are not known.</summary>
    public double TimeAt(double degrees)
    {
        var i = Array.BinarySearch(_degrees, degrees);
        if (i >= 0)
        {
            return _times[i];
        }

        i = ~i - 1;
        if (i < 1 || i + 2 >= _degrees.Length || _degrees[i + 1] - _degrees[i] > _widest)
        {
            return double.NaN;
        }

        var (x0, x1) = (_degrees[i], _degrees[i + 1]);
        var h = x1 - x0;
        var slope0 = (_times[i + 1] - _times[i - 1]) / (_degrees[i + 1] - _degrees[i - 1]);
        var slope1 = (_times[i + 2] - _times[i]) / (_degrees[i + 2] - _degrees[i]);
        var s = (degrees - x0) / h;
        return (_times[i] * (1 + (s * s * ((2 * s) - 3)))) + (_times[i + 1] * s * s * (3 - (2 * s)))
            + (h * s * (1 - s) * ((slope0 * (1 - s)) - (slope1 * s)));
    }

    /// <summary>The angle at a time, straight between teeth; NaN outside.</summary>
    public double AngleAt(double seconds)
    {
        var i = Array.BinarySearch(_times, seconds);
        i = i >= 0 ? i : ~i - 1;
        return i < 0 || i + 1 >= _times.Length ? double.NaN
            : _degrees[i] + ((_degrees[i + 1] - _degrees[i]) * (seconds - _times[i]) / (_times[i + 1] - _times[i]));
    }

    private static ToothAngles Plain(ReadOnlySpan<double> times, ToothWheel wheel, ToothErrors? errors)
    {
        var places = new int[times.Length];
        var degrees = new double[times.Length];
        for (var i = 0; i < places.Length; i++)
        {
            places[i] = i % wheel.Places;
            degrees[i] = (i * wheel.Pitch) + (errors?.Degrees[places[i]] ?? 0);
        }

        return new(degrees, times.ToArray(), places, wheel);
    }

    private static (ToothAngles? Angles, string? Problem) WithGap(ReadOnlySpan<double> times, ToothWheel wheel, ToothErrors? errors)
    {
        var starts = Starts(times, wheel);
        var turns = starts.Zip(starts.Skip(1), (a, b) => b - a).ToArray();
        if (turns.Length < 2)
        {
            return (null, $"The gap of a wheel {wheel.Places}-{wheel.Missing} is not found.");
        }

        if (turns.Count(t => t != wheel.Teeth) > MostWrong * turns.Length)
        {
            var usual = turns.GroupBy(t => t).MaxBy(g => g.Count())!.Key;
            return (null, $"From gap to gap there are mostly {usual} teeth, not the {wheel.Teeth} of a wheel {wheel.Places}-{wheel.Missing}.");
        }

        var (places, degrees, kept) = (new List<int>(), new List<double>(), new List<double>());
        for (var turn = 0; turn < turns.Length; turn++)
        {
            // A revolution with a tooth too many or too few is bridged: its teeth are not known.
            for (var k = 0; k < turns[turn] && turns[turn] == wheel.Teeth; k++)
            {
                places.Add(k);
                degrees.Add((turn * 360.0) + (k * wheel.Pitch) + (errors?.Degrees[k] ?? 0));
                kept.Add(times[starts[turn] + k]);
            }
        }

        return (new([.. degrees], [.. kept], [.. places], wheel), null);
    }

    /// <summary>Each first tooth after a gap: its interval stands out of the four on either side.</summary>
    private static List<int> Starts(ReadOnlySpan<double> times, ToothWheel wheel)
    {
        var starts = new List<int>();
        var around = new double[8];
        for (var i = 1; i < times.Length; i++)
        {
            var n = 0;
            for (var k = Math.Max(1, i - 4); k <= Math.Min(times.Length - 1, i + 4); k++)
            {
                if (k != i)
                {
                    around[n++] = times[k] - times[k - 1];
                }
            }

            if (times[i] - times[i - 1] > (1 + (wheel.Missing / 2.0)) * Transform.Middle.Of(around.AsSpan(0, n)))
            {
                starts.Add(i);
            }
        }

        return starts;
    }
}
