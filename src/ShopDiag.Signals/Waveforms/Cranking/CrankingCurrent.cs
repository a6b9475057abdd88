namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// Relative compression from the starter's current (or the battery's voltage) while the engine is cranked without fuel. The compression torque of all cylinders is fitted together
/// to a model of crank, one-way clutch and starter, because the humps overlap: the current is the torque seen through a lag, and read by their heights alone weak neighbours hide one another.
/// Source of the model: textbook crank geometry, polytropic compression and the equations of a direct-current motor; how well it does is measured in docs/waveforms.md.
/// </summary>
public static class CrankingCurrent
{
    /// <summary>Fewer full working cycles than this are refused.</summary>
    public const int FewestCycles = 3;

    /// <summary>Below this share of the variance explained the trace is refused: what repeats in it is not these cylinders' compression.</summary>
    public const double LeastR2 = 0.8;

    /// <summary>
    /// Below this the trace is doubtful. Measured on synthetic crankings at 20 to 40 dB, where noise hardly matters: the right number of cylinders explains 0.978 and more, a wrong one 0.955 and less
    /// wherever the cylinders differ (docs/waveforms.md).
    /// </summary>
    private const double GoodR2 = 0.97;

    /// <summary>And above this standard error of the middle cylinder's share: on the same crankings 0.015 and less for the right number, 0.034 and more for a wrong one that is not its half or double.</summary>
    private const double GoodError = 0.025;

    /// <summary>Where the middle cylinder's share is known no better than this, the working cycles do not agree: those of another number of cylinders, mostly.</summary>
    private const double MostError = 0.15;

    /// <summary>A cycle this many times as fast as the usual one: the engine fired.</summary>
    private const double RanUp = 1.45;

    /// <summary>
    /// Reads a cranking. What is wrong with the trace is said in <see cref="CrankingResult.Refused"/>; <see cref="ArgumentException"/> is thrown only for a channel that is not there or a
    /// firing order that does not name each of the cylinders once.
    /// </summary>
    public static CrankingResult Analyse(Waveform waveform, CrankingRequest request) => Explained(waveform, request).Result;

    /// <summary>The same with the stretch of cranking that was used and what explains it.</summary>
    internal static (CrankingResult Result, CrankingStretch Stretch, FittedCranking? Fitted) Explained(Waveform waveform, CrankingRequest request)
    {
        ArgumentNullException.ThrowIfNull(waveform);
        ArgumentNullException.ThrowIfNull(request);
        Check(waveform, request);
        var stretch = CrankingStretch.Find(waveform.Channels[request.Channel].Samples, waveform.SampleRate, request.Signal);
        if (stretch.Problem is { } problem)
        {
            return (new() { Refused = problem }, stretch, null);
        }

        List<double> pulses = request.Sync is { } sync ? SyncPulses.Times(waveform.Channels[sync.Channel].Samples, waveform.SampleRate) : [];
        var fitted = Fitted(stretch, request.Cylinders);
        return (WhyNot(fitted) is { } why ? new() { Refused = why, R2 = fitted?.R2 ?? 0 } : Told(waveform, request, stretch, fitted!, pulses), stretch, fitted);
    }

    private static void Check(Waveform waveform, CrankingRequest request)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(request.Cylinders, CrankingRequest.FewestCylinders);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(request.Cylinders, CrankingRequest.MostCylinders);
        CrankOrder.Check(request.Cylinders, request.FiringOrder);
        foreach (var channel in new[] { request.Channel, request.Sync?.Channel ?? 0 })
        {
            ArgumentOutOfRangeException.ThrowIfNegative(channel);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(channel, waveform.Channels.Count);
        }
    }

    /// <summary>The best explanation among the speeds that the humps may mean.</summary>
    private static FittedCranking? Fitted(CrankingStretch stretch, int cylinders)
    {
        var fit = new CompressionFit(stretch.Current, CrankingStretch.Hertz, cylinders);
        var search = new MotionSearch(fit, CrankingStretch.Hertz, cylinders);
        var linear = HumpPeriod.Cycles(stretch.Current, CrankingStretch.Hertz, cylinders).Select(search.Linear).ToArray();
        if (linear.Length == 0)
        {
            return null;
        }

        // Read at twice the true speed an engine may fit well too; the true speed must not be dropped on the way.
        var likeliest = linear.Select(l => l[0]).MinBy(l => l.Sum);
        var followed = linear.Where(l => l[0].Sum <= 3 * likeliest.Sum || Math.Abs((2 * l[0].Motion.Rate / likeliest.Motion.Rate) - 1) < 0.1).ToArray();
        FittedCranking[] full = [.. followed.Select(l => search.Full(l[0].Motion, l[0].Factors, patient: false)).OrderByDescending(f => f.R2)];
        if (full[0].R2 < GoodR2)
        {
            // A wrong turn, or a poor trace: only the other ways tell.
            full = [.. full.Concat(followed.SelectMany(l => l).Select(l => search.Full(l.Motion, l.Factors, patient: true))).OrderByDescending(f => f.R2)];
        }

        // There each second cylinder seems dead.
        var slower = full.FirstOrDefault(f => !f.SkipsEachSecond && f.R2 >= LeastR2);
        return full[0].SkipsEachSecond && slower is not null ? slower : full[0];
    }

    private static string? WhyNot(FittedCranking? fitted) => fitted switch
    {
        null => "The trace shows no humps that repeat.",
        { R2: < LeastR2 } => "What the trace shows does not repeat as compressions do. The number of cylinders may be another, the engine may have fired, or the clamp was not round the starter's cable alone.",
        _ when Transform.Middle.Of(fitted.Error) > MostError => "The working cycles do not agree with one another. Is the number of cylinders right?",
        { FullCycles: < FewestCycles } => $"The steady part of the cranking holds only {fitted.FullCycles} full working cycles; it takes {FewestCycles}. Crank for five seconds or more.",
        { Fastest: > RanUp } => "The engine ran up while it was cranked: it fired. Disable the fuel the maker's way and crank again.",
        _ => null,
    };

    private static CrankingResult Told(Waveform waveform, CrankingRequest request, CrankingStretch stretch, FittedCranking fitted, List<double> pulses)
    {
        var n = request.Cylinders;
        var start = waveform.StartSeconds + stretch.From;
        var marks = fitted.TopDeadCentres(CrankingStretch.Hertz).ToArray();
        var first = marks.Length > 0 ? marks[0].Position : 0;
        char Letter(int position) => (char)('A' + ((position - first + n) % n));
        var (offset, remark) = CrankOrder.Offset(request, fitted, [.. pulses.Select(p => p - stretch.From)]);
        var poor = fitted.R2 < GoodR2 || Transform.Middle.Of(fitted.Error) > GoodError ? "The trace is explained only in part: the percentages may be off by ten points, or the engine has another number of cylinders. Charge the battery, see that the clamp is tight, and crank again." : null;
        int? Cylinder(int position) => offset is { } o ? request.FiringOrder[(position + o) % n] : null;
        return new()
        {
            Cylinders = [.. Enumerable.Range(0, n).Select(i => (first + i) % n).Select(p => new CylinderCompression(Letter(p), Cylinder(p), 100 * fitted.Share[p], 100 * fitted.Error[p]))],
            Assigned = offset is not null,
            Cycles = fitted.FullCycles,
            Rpm = fitted.CyclesInAll * 120 * CrankingStretch.Hertz / (stretch.Current.Length - 1),
            R2 = fitted.R2,
            Doubtful = poor is not null,
            Used = (start, start + ((stretch.Current.Length - 1) / CrankingStretch.Hertz)),
            Marks = [.. marks.Select(m => new CompressionMark(start + m.Seconds, Letter(m.Position)))],
            Remarks = [.. new[] { CrankingResult.OnlyCompares, remark, poor }.OfType<string>()],
        };
    }
}
