using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Charts;

/// <summary>One curve on its way onto a chart.</summary>
internal sealed record CurveDrawing(SurvivalSeries Of, int Series, int Until, bool WithBand)
{
    private int End => Math.Min(Until, Of.Curve.LastTime ?? 0);

    /// <summary>Its name, with the remark on small numbers.</summary>
    public string Name => Of.IsSmall ? $"{Of.Name} (small numbers)" : Of.Name;

    /// <summary>Its dashes.</summary>
    public LinePattern Pattern => (LinePattern)Series;

    /// <summary>The lowest share that is drawn of it.</summary>
    public double Lowest => Steps().Select(s => WithBand ? s.Band.Low : s.Survival).DefaultIfEmpty(1).Min();

    public void Draw(ChartBuilder build, Span along, Span up, Span shown)
    {
        if (Of.Curve.LastTime is null)
        {
            return;
        }

        double X(int time) => along.At((double)time / Until);
        double Y(double share) => up.At(shown.ShareOf(share));
        SurvivalPoint[] steps = [.. Thinned(Steps(), build.Setting.TextSize * 0.08 * Until / (along.To - along.From))];
        var points = new List<ChartPoint> { new(X(0), Y(1)) };
        for (var i = 0; i < steps.Length; i++)
        {
            var (from, to) = (X(steps[i].Time), X(i + 1 < steps.Length ? steps[i + 1].Time : End));
            var (y, high, low) = (Y(steps[i].Survival), Y(steps[i].Band.High), Y(steps[i].Band.Low));
            points.AddRange([new(from, points[^1].Y), new(from, y)]);
            if (WithBand)
            {
                build.Area(ChartRole.Band, Series == 0 ? AreaPattern.Slanting : AreaPattern.SlantingBack, Series, from, high, to - from, low - high);
            }
        }

        points.Add(new(X(End), points[^1].Y));
        build.Line(ChartRole.Curve, Pattern, Series, [.. points.Distinct()]);
        DrawMarks(build, X, Y);
    }

    private void DrawMarks(ChartBuilder build, Func<int, double> x, Func<double, double> y)
    {
        // Marks so near to each other that they would run together are one.
        var (apart, last) = (build.Setting.TextSize * 0.4, double.NegativeInfinity);
        foreach (var mark in Of.Curve.CensorMarks.TakeWhile(m => m.Time <= End))
        {
            if (x(mark.Time) - last < apart)
            {
                continue;
            }

            last = x(mark.Time);
            var (at, half) = (y(mark.Survival), build.Setting.TextSize * 0.25);
            build.Line(ChartRole.Censored, LinePattern.Solid, Series, new ChartPoint(last, at - half), new(last, at + half));
        }
    }

    /// <summary>The steps that are drawn, the start among them where something is known of it.</summary>
    private IEnumerable<SurvivalPoint> Steps()
    {
        if (Of.Curve.At(0) is { } start)
        {
            yield return start;
        }

        foreach (var step in Of.Curve.Steps)
        {
            if (step.Time > End)
            {
                yield break;
            }

            if (step.Time > 0)
            {
                yield return new(step.Time, step.AtRisk, step.Survival, step.StandardError, step.Band);
            }
        }
    }

    /// <summary>Of steps nearer to each other than can be seen, the last: the curve only falls.</summary>
    private static IEnumerable<SurvivalPoint> Thinned(IEnumerable<SurvivalPoint> steps, double apart)
    {
        SurvivalPoint? held = null;
        foreach (var step in steps)
        {
            if (held is { } before && Math.Floor(step.Time / apart) > Math.Floor(before.Time / apart))
            {
                yield return before;
            }

            held = step;
        }

        if (held is { } last)
        {
            yield return last;
        }
    }
}
