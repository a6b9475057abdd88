using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Tests.Reasoning;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>Knowledge that does not hold together is refused, and the entry at fault is named.</summary>
public sealed class KnowledgeChecksTests
{
    private static readonly BenchTest Look = SmallWorld.Test("look", TestScope.Cylinder, 0.01, 5, ("fine", 0.9), ("bad", 0.1));
    private static readonly Cause Sound = SmallWorld.Cause("cause", CauseScope.Cylinder, 1, false, Rule());

    public static TheoryData<string, string> Spoilt => new()
    {
        { "weight", "the weight must be above 0" },
        { "sum", "do not add up to 1" },
        { "aspect", "there is no aspect 'nothing'" },
        { "outcome", "has no such outcome" },
        { "because", "'because' is empty" },
        { "source", "'source' is empty" },
        { "customer", "'forCustomer' is empty" },
        { "twice", "would never be read" },
        { "proof", "a proof names no reading" },
        { "at-least", "'atLeast' is 2 or more" },
        { "proof-outcome", "has no such outcome" },
        { "check", "a check names a test that does not exist" },
    };

    [Fact]
    public void Sound_knowledge_is_taken() => Assert.Equal("cause", Assert.Single(SmallWorld.Knowledge([Look], [Sound]).Causes).Id);

    [Theory]
    [MemberData(nameof(Spoilt))]
    public void A_spoilt_cause_is_refused_by_name(string how, string said)
    {
        var error = Assert.Throws<InvalidOperationException>(() => SmallWorld.Knowledge([Look], [Spoil(how)]));

        Assert.Contains("cause 'cause'", error.Message, StringComparison.Ordinal);
        Assert.Contains(said, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_contradiction_takes_two_readings_at_one_place()
    {
        Refuses("two or more", new ContradictionRule("x", [At("bad")], "why", "look", "made up"));
        Refuses("one and the same place", new ContradictionRule("x", [At("bad"), At("fine") with { Where = Relation.Companion }], "why", "look", "made up"));
        Refuses("there is no test 'other'", new ContradictionRule("x", [At("bad"), At("fine")], "why", "other", "made up"));
        Refuses("'because' is empty", new ContradictionRule("x", [At("bad"), At("fine")], " ", "look", "made up"));

        static void Refuses(string said, ContradictionRule rule) => Assert.Contains(
            said, Assert.Throws<InvalidOperationException>(() => new Knowledge([Look], [Sound], [rule], [], [])).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_profile_must_be_an_engine_and_have_an_id_of_its_own()
    {
        var twin = new EngineProfile("twin", "Two in line", SmallWorld.Twin.Spec, "made up");
        Refuses("engine profile 'twin': firingOrder", twin with { Spec = twin.Spec with { FiringOrder = [1, 1] } });
        Refuses("engine profile 'twin' is there twice", twin, twin);
        Refuses("'source' is empty", twin with { Source = "" });

        static void Refuses(string said, params EngineProfile[] profiles) => Assert.Contains(
            said, Assert.Throws<InvalidOperationException>(() => new Knowledge([Look], [Sound], [], [], profiles)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_narrower_rule_of_its_own_stands_beside_the_pattern_and_a_whole_one_replaces_it()
    {
        var whole = Rule();
        var onBank = whole with { At = PlaceKind.Bank };
        var onWasteSpark = whole with { OnlyIgnition = [Ignition.WasteSpark] };

        Assert.True(whole.Covers(onBank));
        Assert.True(whole.Covers(onWasteSpark));
        Assert.False(onBank.Covers(whole));
        Assert.False(onWasteSpark.Covers(whole));
        Assert.False(whole.Covers(whole with { Where = Relation.Companion }));
    }

    [Fact]
    public void The_first_rule_that_fits_speaks()
    {
        var onBank = SmallWorld.Rule("look", Relation.Here, ("fine", 0.4), ("bad", 0.6)) with { At = PlaceKind.Bank };
        var cause = SmallWorld.Cause("cause", CauseScope.Cylinder, 1, false, onBank, Rule());

        Assert.Same(onBank, cause.RuleFor("look", Relation.Here, PlaceKind.Bank, SmallWorld.Twin));
        Assert.Same(cause.Shows[1], cause.RuleFor("look", Relation.Here, PlaceKind.Cylinder, SmallWorld.Twin));
        Assert.Null(cause.RuleFor("look", Relation.Elsewhere, PlaceKind.Cylinder, SmallWorld.Twin));
    }

    private static Cause Spoil(string how) => how switch
    {
        "weight" => Sound with { Weight = 0 },
        "sum" => With(Rule() with { Shows = Shows(("fine", 0.2), ("bad", 0.7)) }),
        "aspect" => With(Rule() with { Aspect = "nothing" }),
        "outcome" => With(Rule() with { Shows = Shows(("fine", 0.2), ("worse", 0.8)) }),
        "because" => With(Rule() with { Because = "" }),
        "source" => With(Rule() with { Source = " " }),
        "customer" => Sound with { ForCustomer = "" },
        "twice" => With(Rule(), Rule() with { At = PlaceKind.Cylinder }),
        "proof" => Sound with { Proof = [new ProofRule([], "says")] },
        "proof-outcome" => Sound with { Proof = [new ProofRule([At("worse")], "says")] },
        "at-least" => Sound with { Proof = [new ProofRule([At("bad") with { AtLeast = 2 }], "says")] },
        "check" => Sound with { Repair = Sound.Repair with { Check = ["other"] } },
        _ => throw new InvalidOperationException($"Unknown case {how}."),
    };

    private static Cause With(params EvidenceRule[] rules) => Sound with { Shows = [.. rules] };

    private static EvidenceRule Rule() => SmallWorld.Rule("look", Relation.Here, ("fine", 0.2), ("bad", 0.8));

    private static OutcomeAt At(string outcome) => new("look", [outcome]);

    private static ImmutableDictionary<string, double> Shows(params (string Outcome, double Probability)[] shows) =>
        shows.ToImmutableDictionary(s => s.Outcome, s => s.Probability);
}
