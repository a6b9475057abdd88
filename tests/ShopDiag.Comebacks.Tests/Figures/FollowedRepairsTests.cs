using System.Collections.Immutable;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Comebacks.Tests.Figures;

public sealed class FollowedRepairsTests
{
    private static readonly OwnerQuestion Question = new() { AsOf = Cases.Day(200), Window = new(90, 5_000) };

    [Fact]
    public void A_car_not_seen_again_is_watched_until_the_day_asked_about()
    {
        var one = Assert.Single(Follow([Cases.Repair(1001, 50)]));

        Assert.Equal((150, null, Standing.Held), (one.Days, one.Return, one.Standing));
    }

    [Fact]
    public void Of_one_technician_only_his_repairs_count_whoever_had_the_car_when_it_came_back()
    {
        RepairCase[] cases = [Cases.Repair(1001, 0) with { Technician = "Lena" }, Cases.Repair(1002, 0, vehicle: 2) with { Technician = "Sam" }, Cases.Back(1100, 60, of: 1001) with { Technician = "Sam" }];
        var lena = Assert.Single(FollowedRepairs.From(cases, Question with { Technician = " lena" }).All);

        Assert.Equal((1001, Standing.CameBack), (lena.Case.Number, lena.Standing));
        Assert.Equal(2, FollowedRepairs.From(cases, Question).All.Length);
        Assert.Empty(FollowedRepairs.From(cases, Question with { Technician = "" }).All);
    }

    [Theory]
    [InlineData(ComebackAnswer.Yes, 60, Standing.CameBack)]
    // The last day of the window is in it.
    [InlineData(ComebackAnswer.Yes, 90, Standing.CameBack)]
    [InlineData(ComebackAnswer.Yes, 91, Standing.CameBackLater)]
    [InlineData(ComebackAnswer.Undecided, 60, Standing.Undecided)]
    [InlineData(ComebackAnswer.No, 60, Standing.Held)]
    [InlineData(ComebackAnswer.OtherTrouble, 60, Standing.Held)]
    public void Only_what_a_person_called_a_comeback_is_one(ComebackAnswer answer, int day, Standing standing)
    {
        var one = Assert.Single(Follow([Cases.Repair(1001, 0), Cases.Back(1100, day, of: 1001, answer: answer)]));

        Assert.Equal((standing, answer == ComebackAnswer.Yes ? day : 200), (one.Standing, one.Days));
    }

    [Fact]
    public void A_comeback_further_on_than_the_window_is_a_later_one()
    {
        RepairCase[] cases = [Cases.Repair(1001, 0, km: 50_000), Cases.Back(1100, 60, of: 1001, km: 55_001)];

        Assert.Equal(Standing.CameBackLater, Assert.Single(Follow(cases)).Standing);
        Assert.Equal(Standing.CameBack, Assert.Single(FollowedRepairs.From(cases, Question with { Window = new(90, null) }).All).Standing);
    }

    [Theory]
    [InlineData(110, null, Standing.TooEarly)]
    [InlineData(109, null, Standing.Held)]
    // Driven beyond the window's distance without trouble: nothing can come in it any more.
    [InlineData(150, 55_001, Standing.Held)]
    [InlineData(150, 55_000, Standing.TooEarly)]
    public void Without_a_comeback_it_held_once_the_window_is_over(int day, int? lastKm, Standing standing)
    {
        var repair = Cases.Repair(1001, day) with { LastSeen = lastKm is null ? null : new(Cases.Day(190), lastKm) };

        Assert.Equal(standing, Assert.Single(Follow([repair])).Standing);
    }

    [Fact]
    public void The_first_of_two_comebacks_counts_and_the_second_repair_has_a_clock_of_its_own()
    {
        var again = Cases.Back(1100, 30, of: 1001) with { HandedOverOn = Cases.Day(31), Repaired = Cases.Repair(1100, 30).Repaired };
        var all = Follow([Cases.Repair(1001, 0), Cases.Back(1200, 80, of: 1001), again, Cases.Back(1300, 70, of: 1100)]);

        Assert.Equal([(1001, 1100, 30), (1100, 1300, 39)], all.Select(f => (f.Case.Number, f.Return!.Number, f.Days)));
    }

    [Fact]
    public void What_happened_after_the_day_asked_about_is_not_known_yet()
    {
        RepairCase[] cases =
        [
            Cases.Repair(1001, 180) with { LastSeen = new(Cases.Day(210), 51_000) }, Cases.Back(1100, 210, of: 1001), Cases.Repair(1002, 201),
        ];
        var one = Assert.Single(Follow(cases));

        Assert.Equal((20, Standing.TooEarly, null), (one.Days, one.Standing, one.Return));
        Assert.Equal(20 * DailyDistance.Usual, one.Kilometres);
    }

    [Fact]
    public void Only_repairs_handed_over_in_the_days_asked_about_count_but_their_comebacks_may_come_later()
    {
        RepairCase[] cases =
        [
            Cases.Repair(1001, 9), Cases.Repair(1002, 10), Cases.Repair(1003, 20), Cases.Repair(1004, 21), Cases.Back(1100, 60, of: 1003),
            Cases.Repair(1005, 15) with { HandedOverOn = null }, Cases.Repair(1006, 15) with { Repaired = [] },
        ];
        var all = FollowedRepairs.From(cases, Question with { From = Cases.Day(10), To = Cases.Day(20) }).All;

        Assert.Equal([(1002, Standing.Held), (1003, Standing.CameBack)], all.Select(f => (f.Case.Number, f.Standing)));
    }

    [Fact]
    public void A_return_dated_before_the_hand_over_counts_from_the_first_day()
    {
        var one = Assert.Single(Follow([Cases.Repair(1001, 10), Cases.Back(1100, 5, of: 1001)]));

        Assert.Equal((0, Standing.CameBack), (one.Days, one.Standing));
    }

    [Fact]
    public void An_order_is_no_comeback_of_itself() =>
        Assert.Equal(Standing.Held, Assert.Single(Follow([Cases.Repair(1001, 0) with { ComebackOf = Cases.Key(1001), Answer = ComebackAnswer.Yes }])).Standing);

    [Fact]
    public void Distance_goes_to_the_last_reading_and_on_from_there_as_the_car_is_driven()
    {
        // 4000 km in 40 days, then 160 days more at a hundred a day.
        var one = Assert.Single(Follow([Cases.Repair(1001, 0, km: 50_000) with { LastSeen = new(Cases.Day(40), 54_000) }]));

        Assert.Equal((4_000 + (160 * 100), true), (one.Kilometres, one.KilometresEstimated));
    }

    [Fact]
    public void A_comeback_with_both_readings_needs_no_estimate()
    {
        var one = Assert.Single(Follow([Cases.Repair(1001, 0, km: 50_000), Cases.Back(1100, 20, of: 1001, km: 50_700)]));

        Assert.Equal((700, false), (one.Kilometres, one.KilometresEstimated));
    }

    [Fact]
    public void From_ten_cars_on_the_shops_own_middle_car_tells_a_days_distance()
    {
        RepairCase[] read = [.. Enumerable.Range(0, 10).Select(i => Cases.Repair(1001 + i, 0, vehicle: i + 2) with { LastSeen = new(Cases.Day(100), 50_000 + (100 * (20 + i))) })];
        var unread = Cases.Repair(1100, 100, km: null);

        Assert.Equal(24.5, FollowedRepairs.From([.. read, unread], Question).KilometresADay, 1e-9);
        Assert.Equal(2_500, FollowedRepairs.From([.. read, unread], Question).All[^1].Kilometres);
        Assert.Equal(DailyDistance.Usual, FollowedRepairs.From([.. read.Skip(1), unread], Question).KilometresADay);
    }

    private static ImmutableArray<FollowedRepair> Follow(RepairCase[] cases) => FollowedRepairs.From(cases, Question).All;
}
