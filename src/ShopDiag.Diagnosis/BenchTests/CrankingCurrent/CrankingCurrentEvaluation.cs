using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CrankingCurrent;

/// <summary>
/// Compares the relative compression of each cylinder with the level of the sound ones. It only compares: where all are worn alike, or one stands above all
/// the rest, it says that it cannot tell.
/// </summary>
internal sealed class CrankingCurrentEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "cranking-current";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var humps = new Beside(input, "relativePercent");
        return humps.Count == 0 ? [] : [.. humps.Values.Select(h => new CrankingJudge(input, humps).Judge(h.At, h.Value))];
    }
}

/// <summary>Judges the humps of one cranking.</summary>
internal sealed class CrankingJudge(EvaluationInput input, Beside humps)
{
    private const string Share = "cranking-share-percent";
    private const string Apart = "cranking-trials-percent";
    private const string Gauge = "Take dry compression with a gauge";

    private double SharePercent => input.Limits[Share];

    private double Least => humps.SoundLevel * SharePercent / 100;

    /// <summary>The finding at one cylinder.</summary>
    public Finding Judge(Place at, double percent) => WhyNot(at) is { } why
        ? input.Finding(at, null, $"{Words.Percent(percent, 1)}. {why}", percent)
        : humps.Stands(at, Least, input.Limits[Apart]) switch
        {
            Standing.TrialsApart => input.Finding(at, null, $"The trials lie between {Words.Percent(humps.Trials(at).Lowest, 1)} and {Words.Percent(humps.Trials(at).Highest, 1)}, on both sides of {Rule}: charge the battery and crank again.", percent)
                with { TrialsDisagree = true },
            Standing.LostInScatter => input.Finding(at, null, $"{Words.Percent(percent, 1)}, below {Rule}, but the other humps differ among themselves nearly as much. Charge the battery, see that the clamp is tight, and crank again.", percent),
            Standing.Below => input.Finding(at, "low", $"{Words.Percent(percent, 1)}, below {Rule}.", percent) with { ByDefaultLimit = !input.Limits.IsOwn(Share) },
            Standing.Like => input.Finding(at, "good", $"{Words.Percent(percent, 1)}, not below {Rule}.{Remark(at)} That all are alike low does not show in this test.", percent)
                with { ByDefaultLimit = !input.Limits.IsOwn(Share) },
            var other => throw new InvalidOperationException($"Unknown standing {other}."),
        };

    private string Rule => $"{Words.Percent(SharePercent)} of the sound ones' {Words.Percent(humps.SoundLevel, 1)} ({input.Whose(Share)})";

    private string Remark(Place at) => humps.StandsOutBelow(at, input.Limits["compression-odd-percent"])
        ? $" Yet it stands out below the others: {Gauge.ToLowerInvariant()} there if nothing else is found."
        : "";

    /// <summary>Why nothing can be said at a cylinder, and what to do about it; null when something can.</summary>
    private string? WhyNot(Place at)
    {
        if (input.Engine.CylinderCount == 1)
        {
            return $"An engine with one cylinder has nothing to compare it with. {Gauge}.";
        }

        if (humps.OtherCount(at) < Math.Min(2, input.Engine.CylinderCount - 1))
        {
            return "With fewer than three cylinders there is nothing to compare it with: read the rest of the same cranking.";
        }

        if (humps.Count == input.Engine.CylinderCount && humps.Highest < SharePercent)
        {
            return $"All cylinders read low alike. This test only compares, and evenly worn cylinders hide in it. {Gauge}.";
        }

        return humps.SoundLevel < humps.Highest * SharePercent / 100
            ? $"One cylinder reads {Words.Percent(humps.Highest, 1)}, far above all others: either it is high from carbon or fluid, or the others are low alike. {Gauge} there and at one of the others."
            : null;
    }
}
