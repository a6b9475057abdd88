using ShopDiag.Estimates;
using ShopDiag.Web.Parts;

namespace ShopDiag.Web.Tests.Parts;

public sealed class PartWordsTests
{
    private static readonly DateOnly Today = new(2026, 3, 5);

    [Fact]
    public void The_steps_lead_from_wanted_to_the_car()
    {
        var way = new List<PartState> { PartState.Wanted };
        while (PartWords.Next(way[^1]) is { } next)
        {
            way.Add(next);
        }

        Assert.Equal([PartState.Wanted, PartState.Ordered, PartState.Received, PartState.Fitted], way);
        Assert.Null(PartWords.Next(PartState.Returned));
    }

    [Theory]
    [InlineData(PartState.Wanted)]
    [InlineData(PartState.Ordered)]
    [InlineData(PartState.Received)]
    [InlineData(PartState.Fitted)]
    [InlineData(PartState.Returned)]
    public void Every_other_state_is_reached_by_a_button_of_its_own_words(PartState from)
    {
        var others = PartWords.Others(from);
        var reached = others.Append(PartWords.Next(from) ?? from).Append(from).Distinct().Order();
        Assert.Equal(Enum.GetValues<PartState>().Where(s => from != PartState.Wanted || s != PartState.Returned), reached);
        Assert.Equal(others.Length, others.Select(to => PartWords.OtherStep(from, to)).Distinct().Count());
    }

    [Theory]
    [InlineData("none approved yet")]
    [InlineData("1 part wanted", PartState.Wanted, 1)]
    [InlineData("3 parts, all fitted", PartState.Fitted, 1, PartState.Fitted, 2)]
    [InlineData("3 parts: 1 here, 2 ordered", PartState.Ordered, 2, PartState.Received, 1)]
    [InlineData("4 parts: 1 here, 1 wanted, 1 fitted, 1 sent back", PartState.Wanted, 1, PartState.Fitted, 1, PartState.Returned, 1, PartState.Received, 1)]
    public void The_parts_of_an_order_in_one_line(string line, params object[] parts) =>
        Assert.Equal(line, PartWords.Line([.. parts.Chunk(2).Select(p => Part((PartState)p[0], (int)p[1]))]));

    [Fact]
    public void A_part_is_overdue_from_the_day_after_it_was_expected_until_it_is_here()
    {
        Assert.True(PartWords.IsOverdue(Part(PartState.Ordered) with { ExpectedOn = Today.AddDays(-1) }, Today));
        Assert.True(PartWords.IsOverdue(Part(PartState.Wanted) with { ExpectedOn = Today.AddDays(-1) }, Today));
        Assert.False(PartWords.IsOverdue(Part(PartState.Ordered) with { ExpectedOn = Today }, Today));
        Assert.False(PartWords.IsOverdue(Part(PartState.Received) with { ExpectedOn = Today.AddDays(-1) }, Today));
        Assert.False(PartWords.IsOverdue(Part(PartState.Ordered), Today));
    }

    private static PartOnOrder Part(PartState state, int pieces = 1) =>
        new() { Id = Guid.NewGuid(), OrderId = Guid.Empty, LineId = Guid.Empty, Text = "Coil", Quantity = pieces, State = state };
}
