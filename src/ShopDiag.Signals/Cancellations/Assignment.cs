using ShopDiag.Signals.Speed;


namespace ShopDiag.Signals.Cancellations;

/// <summary>
/// Says whose drops they are. With announced times each is looked for in its own time, so that a cylinder without a drop is told from a drop that was missed. With only an
/// order the number of drops must agree; where it does not, nothing is shifted into place and the run says what it cannot tell.
/// </summary>
internal sealed class Assignment(SpeedTrace trace, EvenTrace even, DropMeter meter, CancellationHints hints, double least, double wander)
{
    /// <summary>A hand is this many seconds late at most after it was asked.</summary>
    private const double LateSeconds = 2;

    private const double EarlySeconds = 0.7;

    /// <summary>An announced time must be clear by this share, or it says nothing.</summary>
    private const double LeastClear = 0.7;

    /// <summary>Wander beyond this share of the usual drop makes a run one of chance.</summary>
    private const double MuchWander = 0.3;

    /// <summary>The same as a share of the speed: 10 rpm at idle, common practice.</summary>
    private const double MuchOfSpeed = 0.013;

    /// <summary>What falls by less than this share of the others' drops, its error twice counted, does no work worth the name: below the share at which makers call a cylinder dead (43 %, Lincoln 1991).</summary>
    private const double NextToNothing = 0.4;

    private readonly List<string> _reasons = [.. trace.Remarks];

    public BalanceRun Assign(List<CancelledDrop> drops, List<Edge> edges)
    {
        var open = Incomplete(drops, edges);
        drops = !hints.Times.IsEmpty ? ByTimes(drops) : !hints.Order.IsEmpty ? ByOrder(drops, open is not null) : drops;
        if (open is not null)
        {
            drops.Add(open);
        }

        Judge(drops);
        var usable = _reasons.Count == trace.Remarks.Length && drops.Count > 0;
        return new() { Drops = [.. drops.OrderBy(d => d.Start)], Usable = usable, Reasons = [.. _reasons], WanderRpm = wander };
    }

    /// <summary>A last fall without a rise.</summary>
    private CancelledDrop? Incomplete(List<CancelledDrop> drops, List<Edge> edges)
    {
        if (edges.Count == 0 || edges[^1].Rpm >= 0 || (drops.Count > 0 && edges[^1].Seconds < drops[^1].End))
        {
            return null;
        }

        // After a release the overshoot decays: that is no new fall. One that stays lower than the usual base is.
        var (fall, after) = (edges[^1], even.Mean(edges[^1].Seconds + 0.5, even.End));
        var usual = drops.Count > 0 ? drops.Average(d => d.BaseRpm) : even.Mean(even.Start, fall.Seconds - 0.3);
        return usual - after < Math.Max(least, 3.5 * wander) || even.End - fall.Seconds < 1
            ? null
            : meter.Measure(fall.Seconds, even.End, even.Start, DropKind.Incomplete) with { Problem = "The speed fell and had not come back when the recording ended." };
    }

    private List<CancelledDrop> ByTimes(List<CancelledDrop> drops)
    {
        var left = new List<CancelledDrop>(drops);
        var (assigned, without) = (new List<CancelledDrop>(), new List<Announced>());
        foreach (var time in hints.Times.OrderBy(t => t.From))
        {
            var match = left.Where(d => d.Start >= time.From - EarlySeconds && d.Start <= time.To + LateSeconds && d.End > time.From).OrderByDescending(d => d.Drop).FirstOrDefault();
            if (match is not null)
            {
                left.Remove(match);
                assigned.Add(match with { Cylinder = time.Cylinder });
            }
            else
            {
                without.Add(time);
            }
        }

        // After all others are known: how little is nothing depends on them.
        var usual = assigned.Count < 2 ? 0 : Transform.Middle.Of([.. assigned.Select(d => d.Drop)]);
        assigned.AddRange(without.Select(t => Without(t, usual, left.Exists(d => d.Start < t.To && d.End > t.From - EarlySeconds))));
        foreach (var extra in left)
        {
            _reasons.Add(FormattableString.Invariant($"At {extra.Start:0} s the speed fell by {extra.Drop:0} rpm although no cylinder was announced."));
        }

        return [.. assigned, .. left.Select(d => d with { Kind = DropKind.Unannounced })];
    }

    /// <summary>An announced cylinder at whose time no drop was found: none there, or none to be seen?</summary>
    private CancelledDrop Without(Announced time, double usual, bool down)
    {
        var seen = meter.Measure(time.From, Math.Max(time.From, Math.Min(time.To, even.End)), even.Start, DropKind.NoDrop) with { Cylinder = time.Cylinder };
        var inside = time.To <= even.End + 0.5 && time.From >= even.Start + 0.5;
        var shows = 2 * seen.StandardError < least || seen.Drop + (2 * seen.StandardError) < NextToNothing * usual;
        if (inside && !down && even.ClearShare(time.From - 1, time.To) >= LeastClear && shows)
        {
            return seen with { Confidence = even.ClearShare(time.From - 1, time.To) };
        }

        return seen with
        {
            Kind = DropKind.Unclear,
            Confidence = 0,
            Problem = down ? "The speed was falling already, or still down, when it was announced. Take it again, from a steady speed."
                : !inside ? "The recording does not cover the time at which it was announced."
                : !shows ? FormattableString.Invariant($"The engine wanders by {wander:0} rpm by itself: a small drop would not show. Take it again, two or three times.")
                : "The sound is not clear at that time, so a drop may have been missed. Take it again.",
        };
    }

    private List<CancelledDrop> ByOrder(List<CancelledDrop> drops, bool oneOpen)
    {
        var order = hints.Order;
        if (drops.Count == order.Length && !oneOpen)
        {
            return [.. drops.Select((d, i) => d with { Cylinder = order[i] })];
        }

        var missing = order.Length - drops.Count;
        _reasons.Add($"{order.Length} cancellations were announced and {drops.Count} found, so the drops are not given to cylinders.");
        if (missing > 0)
        {
            _reasons.Add("A cylinder that does no work shows no drop; one that was missed shows none either. Without the time of each cancellation these two cannot be told apart." + Place(drops));
            return [.. drops.Select((d, i) => d with { CouldBe = [.. order.Skip(i).Take(missing + 1).Distinct()] })];
        }

        return [.. drops.Select((d, i) => d with { CouldBe = [.. order.Take(i + 1).Skip(Math.Max(0, i + missing)).Distinct()] })];
    }

    /// <summary>Where a pause about twice as long as the others leaves room for one.</summary>
    private static string Place(List<CancelledDrop> drops)
    {
        double[] pauses = [.. drops.Zip(drops.Skip(1), (a, b) => b.Start - a.Start)];
        if (pauses.Length < 2)
        {
            return "";
        }

        // The lower middle: of two pauses the longer one is the odd one.
        var usual = pauses.Order().ElementAt((pauses.Length - 1) / 2);
        var wide = Enumerable.Range(0, pauses.Length).Where(i => pauses[i] > 1.6 * usual).ToArray();
        return wide.Length == 0 ? "" : " " + string.Join(" ", wide.Select(i =>
            FormattableString.Invariant($"The pause of {pauses[i]:0} s between drops {i + 1} and {i + 2} leaves room for one (the others are {usual:0} s).")));
    }

    private void Judge(List<CancelledDrop> drops)
    {
        if (trace.ClearShare < SpeedTrace.LeastClearShare)
        {
            _reasons.Add(FormattableString.Invariant($"Too noisy: the speed is clear for only {100 * trace.ClearShare:0} % of the time. Move the microphone nearer to the engine or the tailpipe, and let other noises stop."));
        }

        if (trace.Rival is { } rival)
        {
            _reasons.Add(FormattableString.Invariant($"The sound fits a speed of {rival:0} rpm nearly as well. Check the number of cylinders and give the idle speed."));
        }

        if (trace.StepRpm >= 25)
        {
            _reasons.Add(FormattableString.Invariant($"The log shows the speed in steps of {trace.StepRpm:0} rpm: drops of less than {2 * trace.StepRpm:0} rpm cannot be measured with it."));
        }

        if (drops.Count > 0 && wander > Math.Min(MuchWander * Transform.Middle.Of([.. drops.Select(d => d.Drop)]), MuchOfSpeed * drops[0].BaseRpm))
        {
            _reasons.Add(FormattableString.Invariant($"The engine is not steady: it wanders by {wander:0} rpm by itself, much beside the drops. Take each cylinder two or three times."));
        }

        if (drops.Count == 0)
        {
            _reasons.Add(3.5 * wander > 2 * least
                ? FormattableString.Invariant($"The engine is not steady: it wanders by {wander:0} rpm by itself, and no drop stands out.")
                : "No drop was found. Either no cylinder was cancelled, or the idle control holds the speed up: fix it in open loop and take the run again.");
        }

        foreach (var drop in drops.Where(d => d.Problem is not null))
        {
            _reasons.Add(FormattableString.Invariant($"At {drop.Start:0} s: {drop.Problem}"));
        }
    }
}
