using CsCheck;

namespace ShopDiag.Estimates.Tests;

public sealed class ApprovalTests
{
    private static readonly EstimateLine Coil = Samples.Line(LineKind.Part, 1000, 8000, 825, key: 1);
    private static readonly EstimateLine Labour = Samples.Line(LineKind.Labour, 500, 12000, key: 2);
    private static readonly EstimateLine Plugs = Samples.Line(LineKind.Part, 5000, 1200, 825, key: 3) with { Choice = LineChoice.Advised };

    private static Approval Said(params (EstimateLine Line, bool Yes)[] words) => new()
    {
        Id = Guid.Empty, At = DateTime.UnixEpoch, By = "", Person = "", Way = ApprovalWay.Phone, Decisions = [.. words.Select(w => new LineDecision(w.Line.Id, w.Line.Text, LineAmounts.Of(w.Line).Total, w.Yes))],
    };

    [Fact]
    public void Some_lines_may_be_approved_and_others_not()
    {
        var state = ApprovalState.Of([Coil, Labour, Plugs], [Said((Coil, true), (Labour, true), (Plugs, false))]);
        Assert.Equal((Decided.Yes, Decided.Yes, Decided.No), (state.Of(Coil.Id), state.Of(Labour.Id), state.Of(Plugs.Id)));
        // 80.00 and 8.25 % (6.60), and 60.00.
        Assert.Equal(14660, state.ApprovedMinor);
        Assert.True(state.Covers);
    }

    [Fact]
    public void More_money_than_approved_needs_asking_again()
    {
        var dearer = Coil with { PriceMinor = 9000 };
        var state = ApprovalState.Of([dearer, Labour], [Said((Coil, true), (Labour, true))]);
        // 10.00 more and 0.83 of tax on it (97.425, rounded 97.43, against 86.60).
        Assert.Equal(1083, state.OverMinor);
        Assert.False(state.Covers);
        Assert.True(ApprovalState.Of([dearer, Labour], [Said((Coil, true), (Labour, true)), Said((dearer, true))]).Covers);
    }

    [Fact]
    public void The_last_word_on_a_line_counts() =>
        Assert.Equal(Decided.No, ApprovalState.Of([Coil, Labour], [Said((Coil, true)), Said((Coil, false))]).Of(Coil.Id));

    [Fact]
    public void A_new_line_is_open_and_nothing_approved_covers_nothing()
    {
        Assert.Equal(Decided.Open, ApprovalState.Of([Coil, Plugs], [Said((Coil, true))]).Of(Plugs.Id));
        Assert.False(ApprovalState.Of([Coil], []).Covers);
    }

    [Fact]
    public void Money_may_move_between_approved_lines() =>
        Assert.True(ApprovalState.Of([Coil with { PriceMinor = 7000 }, Labour with { PriceMinor = 13000 }], [Said((Coil, true), (Labour, true))]).Covers);

    [Fact]
    public void Cheaper_or_fewer_is_always_covered() => Gen.Long[0, 8000].Sample(price =>
        Assert.True(ApprovalState.Of([Coil with { PriceMinor = price }], [Said((Coil, true), (Labour, true))]).Covers));

    [Theory]
    [InlineData(3, false)]
    [InlineData(8, true)]
    [InlineData(30_000, false)]
    public void A_signature_has_some_points_and_not_too_many(int points, bool good) =>
        Assert.Equal(good, new Signature([[.. Enumerable.Repeat(0.5, points * 2)]], 3).Fault is null);

    [Theory]
    [InlineData(1.5)]
    [InlineData(-0.1)]
    [InlineData(double.NaN)]
    public void A_signature_stays_in_its_field(double x) =>
        Assert.NotNull(new Signature([[.. Enumerable.Repeat(x, 40)]], 3).Fault);
}
