using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>What was read of one group of aspects at one place.</summary>
internal sealed class SeenGroup
{
    private readonly double[]?[] _seen;

    private SeenGroup(GroupModel model, int index, Place at, double[]?[] seen, Finding?[] findings, string reads) =>
        (Model, Index, At, _seen, Findings, Reads) = (model, index, at, seen, findings, reads);

    /// <summary>Nothing read yet.</summary>
    public SeenGroup(GroupModel model, int index, Place at)
        : this(model, index, at, new double[model.Members.Length][], new Finding[model.Members.Length], "")
    {
    }

    /// <summary>The group.</summary>
    public GroupModel Model { get; }

    /// <summary>Its number in the rule table.</summary>
    public int Index { get; }

    /// <summary>The place.</summary>
    public Place At { get; }

    /// <summary>For each member the finding, or null.</summary>
    public Finding?[] Findings { get; }

    /// <summary>What was read of each member, as text: groups of one kind with the same text say the same.</summary>
    public string Reads { get; }

    /// <summary>With one more finding.</summary>
    public SeenGroup With(int member, Finding finding) =>
        With(member, Likelihood(member, finding.Trials.IsEmpty ? [finding.Outcome!] : finding.Trials), finding, finding.Trials.IsEmpty ? finding.Outcome! : string.Join(',', finding.Trials));

    /// <summary>With one more outcome, as it would be read.</summary>
    public SeenGroup WithOutcome(int member, int outcome) => With(member, LikelihoodOf(member, outcome), null, Model.Members[member].Aspect.Outcomes[outcome].Id);

    /// <summary>As if a member had not been read, where the customer said it or its one reading did not show the trouble and another may; unchanged otherwise.</summary>
    public SeenGroup Afresh(int member)
    {
        if (Findings[member] is not { Trials.IsEmpty: true } finding || !(finding.Said || Model.Members[member].Aspect.Outcomes.Any(o => o.TakeAgain && o.Id == finding.Outcome)))
        {
            return this;
        }

        var (seen, findings) = ((double[]?[])_seen.Clone(), (Finding?[])Findings.Clone());
        (seen[member], findings[member]) = (null, null);
        return new SeenGroup(Model, Index, At, seen, findings, $"{Reads}{member}=;");
    }

    /// <summary>Probability of what was seen under no, one or two faults.</summary>
    public double Joint(Speaker? one, Speaker? other) => Model.Joint(_seen, one, other);

    /// <summary>Probability of what was seen when the given faults show themselves.</summary>
    public double Shown(Speaker? one, Speaker? other) => Model.Shown(_seen, one, other);

    /// <summary>Probability of what some members show, those whose bits are set.</summary>
    public double Joint(Speaker? one, uint members)
    {
        var some = new double[]?[_seen.Length];
        for (var i = 0; i < some.Length; i++)
        {
            some[i] = (members & (1u << i)) != 0 ? _seen[i] : null;
        }

        return Model.Joint(some, one, null);
    }

    private SeenGroup With(int member, double[] likelihood, Finding? finding, string read)
    {
        var (seen, findings) = ((double[]?[])_seen.Clone(), (Finding?[])Findings.Clone());
        seen[member] = seen[member] is { } before ? [.. before.Select((p, o) => p * likelihood[o])] : likelihood;
        findings[member] = finding ?? findings[member];
        return new SeenGroup(Model, Index, At, seen, findings, $"{Reads}{member}={read};");
    }

    // Each trial shows the true outcome but for a slip, which may give any: trials that agree leave less room for one, and a retake that
    // disagrees takes back most of what the first trial said.
    private double[] Likelihood(int member, IEnumerable<string> trials)
    {
        var outcomes = Model.Members[member].Aspect.Outcomes;
        var likelihood = Enumerable.Repeat(1.0, outcomes.Length).ToArray();
        foreach (var trial in trials)
        {
            var one = LikelihoodOf(member, outcomes.Select(o => o.Id).ToList().IndexOf(trial));
            for (var o = 0; o < likelihood.Length; o++)
            {
                likelihood[o] *= one[o];
            }
        }

        return likelihood;
    }

    private double[] LikelihoodOf(int member, int outcome)
    {
        var test = Model.Members[member].Test;
        var seen = Model.Lapses[member].Seen(outcome, Model.Healthy[member]);
        return [.. seen.Select(p => (test.Slip / seen.Length) + ((1 - test.Slip) * p))];
    }
}
