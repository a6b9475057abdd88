namespace ShopDiag.Signals.Cancellations;

/// <summary>Measures a drop between two times of a trace.</summary>
internal sealed class DropMeter(EvenTrace trace, double wander, double stepRpm)
{
    private const double BaseSeconds = 2;
    private const double LeastBaseSeconds = 0.6;

    /// <summary>The base ends this much before the onset that is found (seconds): the trace is smoothed over about as long.</summary>
    private const double Early = 0.2;

    /// <summary>Time that the fall itself takes before a speed can count as settled.</summary>
    private const double FallSeconds = 0.5;

    /// <summary>The onset is found from where the speed has gone this share of the way.</summary>
    private const double Onset = 0.2;

    /// <summary>On an exponential way the beginning lies ln(1/0.8) time constants before a fifth, and half of the way ln(0.8/0.5) after it: the one in shares of the other.</summary>
    private const double BeforeFifth = 0.475;

    /// <summary>It is not looked for further back than this (seconds): a slow change of the engine's own must not carry it away.</summary>
    private const double LongestBefore = 0.2;

    /// <summary>What following the sound itself adds, as a share of the speed: measured on synthetic engines.</summary>
    private const double FloorShare = 0.0008;

    /// <summary>When the control brings back more than this share of the drop while the cylinder is off, the drop is not what the cylinder is worth.</summary>
    private const double MuchBroughtBack = 0.5;

    /// <summary>When the speed before moved by this share of the drop within the two seconds, it was not steady.</summary>
    private const double MuchMoved = 0.6;

    private const double LeastClear = 0.5;

    /// <summary>A drop that was found between a fall and a rise; <paramref name="freeFrom"/> is when the one before ended.</summary>
    public CancelledDrop Between(Edge fall, Edge rise, double freeFrom)
    {
        var start = Crossing(fall, trace.Mean(fall.Seconds - 1.2, fall.Seconds - 0.2), trace.Mean(fall.Seconds + 0.35, fall.Seconds + 1.35));
        var end = Crossing(rise, trace.Mean(rise.Seconds - 1.2, rise.Seconds - 0.2), trace.Mean(rise.Seconds + 0.35, rise.Seconds + 1.35));
        end = Math.Max(end, start + trace.Hop);
        var drop = Measure(start, end, freeFrom, DropKind.Heard);
        return drop with { Problem = Problem(drop) };
    }

    /// <summary>What the trace shows between two times, whatever it is.</summary>
    public CancelledDrop Measure(double start, double end, double freeFrom, DropKind kind)
    {
        var baseFrom = Math.Min(Math.Max(start - Early - BaseSeconds, freeFrom), start - Early - LeastBaseSeconds);
        var before = trace.Mean(baseFrom, start - Early);
        var without = trace.LowestMean(Math.Min(start + FallSeconds, Math.Max(start, end - 0.3)), Math.Max(start, end - 0.1));
        var error = Math.Sqrt((wander * wander) + (stepRpm * stepRpm / 12) + Math.Pow(FloorShare * before, 2));
        var clear = trace.ClearShare(baseFrom, end);
        var stands = 1 - Math.Exp(-Math.Abs(before - without) / (3 * error));
        return new()
        {
            Kind = kind, Start = start, End = end, BaseRpm = before, CancelledRpm = without, StandardError = error, Confidence = clear * stands,
        };
    }

    private string? Problem(CancelledDrop drop)
    {
        if (trace.ClearShare(drop.Start - 1, drop.End) < LeastClear)
        {
            return "The sound is not clear there: too noisy. Take it again.";
        }

        if (drop.Drop < 2 * drop.StandardError)
        {
            return FormattableString.Invariant($"A drop of {drop.Drop:0} rpm is no more than the engine wanders by itself ({drop.StandardError:0} rpm). Take it again, two or three times.");
        }

        var moved = trace.Mean(drop.Start - 0.8, drop.Start - 0.1) - trace.Mean(drop.Start - BaseSeconds, drop.Start - BaseSeconds + 0.7);
        if (Math.Abs(moved) > MuchMoved * drop.Drop)
        {
            return FormattableString.Invariant($"The engine was not steady before: its speed moved by {Math.Abs(moved):0} rpm. Wait longer before cancelling and take it again.");
        }

        var back = trace.Mean(drop.End - 0.5, drop.End - 0.1) - drop.CancelledRpm;
        return back > MuchBroughtBack * drop.Drop && drop.End - drop.Start > 1.5
            ? FormattableString.Invariant($"The idle control brought back {back:0} rpm while the cylinder was off and hides part of the drop. Fix the idle control in open loop and take it again.")
            : null;
    }

    /// <summary>
    /// The moment near an edge when the speed began to go: from where it had gone a fifth and where half of the way, as on the exponential way on which an engine takes up another speed. Where it goes at once the
    /// three fall together.
    /// </summary>
    private double Crossing(Edge edge, double before, double after)
    {
        var fifth = Level(edge, before + (Onset * (after - before)));
        var half = Level(edge, before + (0.5 * (after - before)));
        return fifth - Math.Clamp(BeforeFifth * (half - fifth), 0, LongestBefore);
    }

    private double Level(Edge edge, double level)
    {
        var from = trace.Index(edge.Seconds - 1);
        for (var i = trace.Index(edge.Seconds + 1); i > from; i--)
        {
            var (now, was) = (trace.Rpm[i], trace.Rpm[i - 1]);
            if ((now - level) * edge.Rpm >= 0 && (was - level) * edge.Rpm < 0)
            {
                var part = now == was ? 0 : (level - was) / (now - was);
                return trace.At(i - 1) + (part * trace.Hop);
            }
        }

        return edge.Seconds;
    }
}
