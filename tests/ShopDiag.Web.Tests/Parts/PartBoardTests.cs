using System.Collections.Immutable;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Web.Parts;

namespace ShopDiag.Web.Tests.Parts;

public sealed class PartBoardTests
{
    private static readonly DateTime Noon = new(2026, 3, 5, 12, 0, 0, DateTimeKind.Utc);
    private readonly PartBoard _board = new();

    [Fact]
    public void Parts_stand_by_vendor_those_without_one_first_and_within_it_by_promise()
    {
        _board.Show([Part("late", "Slipway", order: 2, hours: 9), Part("soon", "slipway", order: 3, hours: 1), Part("never", "Slipway", order: 1), Part("nobody's", "")], byOrder: false);
        Assert.Equal(":nobody's | slipway:soon,late,never", Shown(_board.Missing));
        Assert.Empty(_board.Ready);
    }

    [Fact]
    public void By_order_the_earliest_promise_comes_first()
    {
        _board.Show([Part("a", "X", order: 2, hours: 9), Part("b", "Y", order: 3, hours: 1), Part("c", "Z", order: 2, hours: 9)], byOrder: true);
        Assert.Equal("3:b | 2:a,c", Shown(_board.Missing));
    }

    [Fact]
    public void What_lies_ready_stands_apart_and_what_is_fitted_nowhere()
    {
        _board.Show([Part("a", "X"), Part("b", "X") is var b ? b with { Part = b.Part with { State = PartState.Received } } : b, Moved(Part("c", "X"), PartState.Fitted), Moved(Part("d", "X"), PartState.Returned)], byOrder: false);
        Assert.Equal(("X:a", "X:b", 0), (Shown(_board.Missing), Shown(_board.Ready), _board.Moved));
    }

    [Theory]
    [InlineData(PartState.Received)]
    [InlineData(PartState.Fitted)]
    [InlineData(PartState.Returned)]
    public void A_part_stays_where_it_was_shown_until_the_page_is_sorted_again(PartState state)
    {
        var (a, b) = (Part("a", "X"), Part("b", "X"));
        _board.Show([a, b], byOrder: false);
        _board.Show([Moved(a, state), b], byOrder: false);
        Assert.Equal(("X:a,b", 1), (Shown(_board.Missing), _board.Moved));

        _board.Sort();
        _board.Show([Moved(a, state), b], byOrder: false);
        Assert.Equal(("X:b", 0), (Shown(_board.Missing), _board.Moved));
        Assert.Equal(state == PartState.Received ? "X:a" : "", Shown(_board.Ready));
    }

    [Fact]
    public void A_vendor_that_is_typed_does_not_take_the_row_away()
    {
        var (a, b) = (Part("a", ""), Part("b", ""));
        _board.Show([a, b], byOrder: false);
        _board.Show([a with { Part = a.Part with { Vendor = "S" } }, b], byOrder: false);
        Assert.Equal((":a,b", 1), (Shown(_board.Missing), _board.Moved));
        Assert.Equal("S", _board.Missing[0].Parts[0].Part.Vendor);
    }

    [Fact]
    public void The_pieces_that_stay_behind_stand_beside_those_that_moved()
    {
        var (valves, gasket) = (Part("valves", "X"), Part("gasket", "X"));
        _board.Show([valves, gasket], byOrder: false);
        var rest = valves with { Part = valves.Part with { Id = Guid.NewGuid(), Text = "rest" } };
        _board.Show([gasket, rest, Moved(valves, PartState.Received)], byOrder: false);
        Assert.Equal("X:valves,rest,gasket", Shown(_board.Missing));
    }

    [Fact]
    public void A_part_that_was_dropped_is_gone()
    {
        var (a, b) = (Part("a", "X"), Part("b", "X"));
        _board.Show([a, b], byOrder: false);
        _board.Show([b], byOrder: false);
        Assert.Equal(("X:b", 0), (Shown(_board.Missing), _board.Moved));
    }

    private static string Shown(ImmutableArray<PartGroup> groups) => string.Join(" | ", groups.Select(g => $"{g.Key}:{string.Join(',', g.Parts.Select(p => p.Part.Text))}"));

    private static AwaitedPart Moved(AwaitedPart part, PartState state) => part with { Part = part.Part with { State = state } };

    private static AwaitedPart Part(string text, string vendor, int order = 1, int? hours = null) => new(
        new() { Id = Guid.NewGuid(), OrderId = Guid.NewGuid(), LineId = Guid.NewGuid(), Text = text, Quantity = 1, Vendor = vendor }, order, "", "", hours is { } h ? Noon.AddHours(h) : null);
}
