using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

public sealed class DecisionTableTests
{
    private static Gen<(DecisionTable Table, ImmutableArray<ImmutableArray<double>> Reading)> AnyCase =>
        from states in Gen.Int[1, 5]
        from acts in Gen.Int[1, 4]
        from outcomes in Gen.Int[1, 4]
        from weights in Gen.Double[0.01, 1].Array[states]
        from gains in Gen.Double[-50, 50].Array[states].Array[acts]
        from chances in Gen.Double[0.01, 1].Array[outcomes].Array[states]
        select (new DecisionTable([.. weights.Select(w => w / weights.Sum())], [.. gains.Select(g => g.ToImmutableArray())]),
            Enumerable.Range(0, outcomes).Select(k => chances.Select(c => c[k] / c.Sum()).ToImmutableArray()).ToImmutableArray());

    [Fact]
    public void D31_knowing_beforehand_is_worth_a_dollar_twenty()
    {
        // R. Clemen, Making Hard Decisions, problem 12.2: A pays 20, 10, 5, 0 with .1, .2, .6, .1; B pays 6 surely.
        var table = new DecisionTable([.1, .2, .6, .1], [[20, 10, 5, 0], [6, 6, 6, 6]]);

        Assert.Equal(7.00, table.BestExpectedGain, 1e-9);
        Assert.Equal(1.20, table.PerfectInformation, 1e-9);
    }

    [Fact]
    public void A_reading_is_worth_between_nothing_and_knowing_it_all() => AnyCase.Sample(c =>
        Assert.InRange(c.Table.Information(c.Reading), 0, c.Table.PerfectInformation + 1e-9));

    [Fact]
    public void A_reading_that_names_the_state_is_worth_knowing_it_all() => AnyCase.Sample(c =>
    {
        var states = c.Reading[0].Length;
        var names = Enumerable.Range(0, states).Select(k => Enumerable.Range(0, states).Select(s => s == k ? 1.0 : 0).ToImmutableArray()).ToImmutableArray();
        Assert.Equal(c.Table.PerfectInformation, c.Table.Information(names), 1e-9);
    });

    [Fact]
    public void A_reading_that_has_nothing_to_do_with_the_state_is_worth_nothing() => Gen.Select(AnyCase, Gen.Double[0, 1]).Sample((c, p) =>
    {
        var same = new[] { p, 1 - p }.Select(x => c.Reading[0].Select(_ => x).ToImmutableArray()).ToImmutableArray();
        Assert.Equal(0, c.Table.Information(same), 1e-9);
    });

    [Fact]
    public void A_reading_that_cannot_change_the_act_is_worth_nothing() =>
        // The first act gains more in either state.
        Assert.Equal(0, new DecisionTable([.5, .5], [[10, 5], [4, 4]]).Information([[.8, .3], [.2, .7]]), 1e-9);

    [Fact]
    public void A_table_that_does_not_hold_together_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new DecisionTable([.5, .4], [[1, 2]]));
        Assert.Throws<ArgumentException>(() => new DecisionTable([.5, .5], [[1]]));
        Assert.Throws<ArgumentException>(() => new DecisionTable([.5, .5], [[1, double.NaN]]));
        Assert.Throws<ArgumentException>(() => new DecisionTable([.5, .5], [[1, 2]]).Information([[1, .5]]));
    }

    [Fact]
    public void D40_entropy_of_a_half_a_quarter_and_two_eighths() =>
        // Cover and Thomas, Elements of Information Theory.
        Assert.Equal(1.75, Entropy.Bits([.5, .25, .125, .125]), 1e-12);

    [Fact]
    public void Entropy_lies_between_certainty_and_all_being_equally_likely() => Gen.Double[0, 1].Array[1, 8].Where(w => w.Sum() > 0.01).Sample(w =>
        Assert.InRange(Entropy.Bits([.. w.Select(x => x / w.Sum())]), 0, Math.Log2(w.Length) + 1e-9));

    [Fact]
    public void Entropy_of_what_does_not_add_up_is_refused() => Assert.Throws<ArgumentException>(() => Entropy.Bits([.5, .4]));
}
