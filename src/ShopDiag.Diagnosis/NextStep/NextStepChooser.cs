using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Chooses what to do next: the test with the best value for its minutes. Value is what the reading is expected to tell (bits) plus how far it
/// brings a proof; minutes count access and what is already open. Ties go to the order of the sheet.
/// </summary>
internal sealed class NextStepChooser(Workup workup, Knowledge knowledge, Belief belief, ImmutableArray<Finding> findings, Proofs proofs)
{
    /// <summary>A whole proof is worth this many bits. Common practice: a diagnosis is finished by a proof, not by a likely guess.</summary>
    public const double BitsOfAProof = 1.0;

    /// <summary>How many suggestions are given.</summary>
    public const int Suggestions = 6;

    /// <summary>A test that tells less than this and brings no proof is not suggested.</summary>
    private const double LeastValue = 0.003;

    /// <summary>The suggestions, best first.</summary>
    public ImmutableArray<NextStepAdvice> Choose(ImmutableArray<Contradiction> contradictions)
    {
        var time = new BenchTime(workup.Engine, knowledge, workup.Readings);
        var gain = new InformationGain(workup.Engine, belief);
        var progress = new ProofProgress(workup.Engine, belief, proofs);
        var rated = Candidates.Of(workup, knowledge, findings)
            .Select((c, order) => (Candidate: c, Order: order, Gain: gain.Bits(c.Test, c.Places), Proof: progress.Share(c.Test, c.Places), Minutes: time.Minutes(c.Test, c.Places)))
            .Select(r => (r.Candidate, r.Order, r.Gain, r.Proof, r.Minutes, Value: r.Gain + (BitsOfAProof * r.Proof)))
            .Where(r => r.Value >= LeastValue)
            .OrderByDescending(r => r.Value / r.Minutes).ThenBy(r => r.Order)
            .Select(r => Advice(r.Candidate, r.Gain, r.Proof, r.Minutes));
        return [.. contradictions.Select(c => Retake(c, time)).DistinctBy(a => (a.Test, a.At)).Concat(rated).DistinctBy(a => (a.Test, a.At)).Take(Suggestions)];
    }

    private NextStepAdvice Advice(Candidate candidate, double gain, double proof, double minutes) => new()
    {
        Test = candidate.Test.Id,
        At = candidate.At,
        Minutes = minutes,
        Gain = gain,
        Because = Why(candidate, gain, proof, minutes),
        Cautions = CautionsOf(candidate.Test),
    };

    private NextStepAdvice Retake(Contradiction contradiction, BenchTime time)
    {
        var test = knowledge.Test(contradiction.Retake)!;
        return new NextStepAdvice
        {
            Test = test.Id,
            At = contradiction.At,
            Minutes = time.Minutes(test, [contradiction.At]),
            Because = $"Take it again: {contradiction.Because}",
            Cautions = CautionsOf(test),
        };
    }

    private ImmutableArray<string> CautionsOf(BenchTest test) => workup.Engine.Spec.Hybrid
        ? test.Cautions.Add("Hybrid: orange cables carry lethal voltage and the engine can start by itself. Follow the maker's procedure to make it safe.")
        : test.Cautions;

    private string Why(Candidate candidate, double gain, double proof, double minutes)
    {
        var likely = Likely().ToArray();
        var spoken = likely.Where(h => SpeaksOf(candidate, h)).Take(3).ToArray();
        var aim = spoken.Length == 0
            ? "It narrows down what is left."
            : $"It tells apart: {string.Join(", ", spoken.Select(Words))}.";
        if (spoken.Length > 0 && spoken.Length == likely.Length)
        {
            aim = $"It decides on {string.Join(", ", spoken.Select(Words))}.";
        }

        var finish = proof >= 0.25 ? " It can bring the proof." : "";
        return string.Create(CultureInfo.InvariantCulture, $"{aim}{finish} Worth {gain:0.0#} bit of certainty for {minutes:0} minutes.");
    }

    private IEnumerable<Hypothesis> Likely() => Enumerable.Range(0, belief.Hypotheses.Length)
        .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= 0.02)
        .OrderByDescending(belief.Probability).ThenBy(h => h)
        .Select(h => belief.Hypotheses[h]);

    private bool SpeaksOf(Candidate candidate, Hypothesis hypothesis) => candidate.Places.Any(p =>
        candidate.Test.Aspects.Any(a => a.Scope == candidate.Test.Scope && belief.Model.Shown(hypothesis, a.Id, p) is not null));

    private static string Words(Hypothesis hypothesis) => $"{hypothesis.Cause.Title.ToLowerInvariant()} ({hypothesis.At})";
}
