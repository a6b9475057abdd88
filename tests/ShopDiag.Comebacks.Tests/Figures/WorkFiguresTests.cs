using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Comebacks.Statistics;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Tests.Figures;

public sealed class WorkFiguresTests
{
    private static readonly OwnerQuestion Question = new() { AsOf = Cases.Day(800), Window = new(365, null) };

    [Fact]
    public void Minutes_to_a_proof_are_told_by_cause_the_longest_first()
    {
        RepairCase Proven(int number, double? minutes, params string[] causes) => Cases.Repair(number, 0) with
        {
            ProofGiven = true, MinutesToProof = minutes, Repaired = [.. causes.Select(c => new RepairedCause(c, Place.Cylinder(1)))],
        };
        RepairCase[] cases =
        [
            Proven(1001, 20, "coil-failed"), Proven(1002, 40, "coil-failed"), Proven(1003, 30, "coil-failed", "coil-failed"), Proven(1004, 90, "rings-worn", "coil-failed"),
            Proven(1005, null, "coil-failed"), Proven(1006, 5, "coil-failed") with { ProofGiven = false },
        ];
        var minutes = BenchMinutes.ByCause(FollowedRepairs.From(cases, Question));

        Assert.Equal(["rings-worn", "coil-failed"], minutes.Select(m => m.Cause));
        Assert.Equal(new Quartiles(27.5, 35, 52.5), minutes[1].Minutes);
        Assert.Equal(45, minutes[1].Scatter.Mean);
        Assert.Equal(new[] { 1001, 1002, 1003, 1004 }.Select(Cases.Key), minutes[1].Orders);
        Assert.True(minutes[1].AreSmallNumbers);
    }

    [Fact]
    public void Parts_fitted_without_proof_are_followed_to_what_became_of_them()
    {
        RepairCase Fitted(int number, int day, params bool[] unproven) =>
            Cases.Repair(number, day) with { Parts = [.. unproven.Select(u => new FittedPart("Coil", "Arden", "Corner Parts", u))] };
        RepairCase[] cases =
        [
            Fitted(1001, 0, true, true), Fitted(1002, 0, true, false), Fitted(1003, 790, true), Fitted(1004, 0, false), Fitted(1005, 0),
            Cases.Back(5001, 40, of: 1001),
        ];
        var parts = PartsWithoutProof.Of(FollowedRepairs.From(cases, Question));

        Assert.Equal((4, 3), (parts.Parts, parts.Orders));
        Assert.Equal(Enum.GetValues<Standing>(), parts.Outcomes.Select(o => o.Standing));
        Assert.Equal([2, 0, 0, 1, 1], parts.Outcomes.Select(o => o.Parts));
        Assert.Equal([Cases.Key(1001)], parts.Outcomes[0].Orders);
    }

    [Fact]
    public void Open_orders_stand_by_age_the_oldest_first()
    {
        int[] ages = [0, 1, 2, 3, 4, 7, 8, 14, 15, 30, 31, 400];
        OpenOrder[] open = [.. ages.Select((age, i) => new OpenOrder(Cases.Key(1001 + i), 1001 + i, Cases.Day(500 - age), "InDiagnosis")), new(Cases.Key(1), 1, Cases.Day(501), "WrittenUp")];
        var aging = OrderAging.Of(open, Cases.Day(500));

        Assert.Equal([(0, 1), (2, 3), (4, 7), (8, 14), (15, 30), (31, null)], aging.Bands.Select(b => (b.FromDays, b.ToDays)));
        Assert.Equal([3, 2, 2, 2, 2, 2], aging.Bands.Select(b => b.Orders.Length));
        Assert.Equal([1012, 1011], aging.Bands[^1].Orders.Select(o => o.Number));
        Assert.Equal((13, 7.0), (aging.Count, aging.Days!.Value.Median));
    }

    [Fact]
    public void Nothing_open_has_no_age()
    {
        var aging = OrderAging.Of([], Cases.Day(0));

        Assert.Equal(0, aging.Count);
        Assert.Null(aging.Days);
    }
}
