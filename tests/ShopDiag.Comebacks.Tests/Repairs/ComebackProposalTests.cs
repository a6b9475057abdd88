using System.Globalization;
using CsCheck;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Tests.Repairs;

public sealed class ComebackProposalTests
{
    private static readonly ComebackWindow Window = new(90, 5_000);

    private static readonly RepairCase Earlier = Cases.Repair(1042, 0) with
    {
        Codes = ["P0304", "P0300"], When = ["idle", "cold"], ConcernText = "Shakes at traffic lights, customer says when cold",
    };

    private static readonly ArrivedOrder Again = new()
    {
        OrderId = Cases.Key(2000),
        VehicleId = Cases.Key(1),
        CameInOn = Cases.Day(23),
        OdometerKm = 50_900,
        Codes = ["P0300", "P0304"],
        When = ["idle"],
        ConcernText = "It shakes again at idle",
    };

    public ComebackProposalTests() => CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;

    [Theory]
    [InlineData(0, 0, true)]
    [InlineData(90, 5_000, true)]
    [InlineData(91, 5_000, false)]
    [InlineData(90, 5_001, false)]
    [InlineData(-1, 0, false)]
    public void A_repair_is_in_the_window_to_its_last_day_and_kilometre(int day, int km, bool isIn)
    {
        var repair = Cases.Repair(1001, 0);

        Assert.Equal(isIn, ComebackProposal.IsInWindow(repair, Cases.Day(day), 50_000 + km, new(90, 5_000)));
        Assert.False(ComebackProposal.IsInWindow(repair with { HandedOverOn = null }, Cases.Day(day), 50_000 + km, new(90, 5_000)));
    }

    [Fact]
    public void It_says_what_is_the_same_in_plain_words()
    {
        var proposal = Assert.Single(ComebackProposal.For(Again, [Earlier], Window));

        Assert.Equal((Cases.Key(1042), 1042, 23, 900), (proposal.OrderId, proposal.Number, proposal.Days, proposal.Kilometres!.Value));
        Assert.Equal(
            [
                "Order 1042 was handed over 23 days ago and 900 km back.",
                "Cylinder 4 shows the trouble again.",
                "Code P0304 is stored again.",
                "P0300, misfire of no cylinder in particular, is stored again.",
                "It happens again at idle.",
                "The customer says again: shakes.",
            ],
            proposal.Reasons.Select(r => r.Text));
        Assert.Empty(proposal.Differences);
    }

    [Fact]
    public void It_says_what_is_not_the_same()
    {
        var other = Again with { Codes = ["P0302"], When = ["load"], ConcernText = "", Places = [Place.Pair(2, 3)] };
        var proposal = Assert.Single(ComebackProposal.For(other, [Earlier], Window));

        Assert.Equal([ComebackReasonKind.Recent], proposal.Reasons.Select(r => r.Kind));
        Assert.Equal(
            ["Then cylinder 4, now cylinders 2 and 3.", "Then it happened with the engine cold and at idle, now under load."], proposal.Differences);
    }

    [Theory]
    [InlineData("Order 1042 was handed over the same day and 0 miles back.", 0, 50_000, DistanceUnit.Miles)]
    [InlineData("Order 1042 was handed over 1 day ago and 1 mile back.", 1, 50_002, DistanceUnit.Miles)]
    [InlineData("Order 1042 was handed over 90 days ago and 5,000 km back.", 90, 55_000, DistanceUnit.Kilometres)]
    [InlineData("Order 1042 was handed over 2 days ago. How far the car went since is not known.", 2, null, DistanceUnit.Kilometres)]
    // An odometer that reads less than before tells no distance.
    [InlineData("Order 1042 was handed over 2 days ago. How far the car went since is not known.", 2, 49_000, DistanceUnit.Kilometres)]
    public void Time_and_distance_are_said_as_people_do(string text, int day, int? km, DistanceUnit unit) =>
        Assert.Equal(text, Assert.Single(ComebackProposal.For(Again with { CameInOn = Cases.Day(day), OdometerKm = km }, [Earlier], Window, unit)).Reasons[0].Text);

    [Fact]
    public void Nothing_is_proposed_outside_the_window()
    {
        Assert.Empty(ComebackProposal.For(Again with { CameInOn = Cases.Day(91) }, [Earlier], Window));
        Assert.Empty(ComebackProposal.For(Again with { OdometerKm = 55_001 }, [Earlier], Window));
        Assert.Single(ComebackProposal.For(Again with { OdometerKm = 500_000 }, [Earlier], new(90, null)));
    }

    [Fact]
    public void Other_cars_unfinished_orders_later_ones_and_those_without_a_repair_are_passed_over() => Assert.Empty(ComebackProposal.For(
        Again,
        [
            Earlier with { VehicleId = Cases.Key(2) },
            Earlier with { HandedOverOn = null },
            Earlier with { HandedOverOn = Cases.Day(24) },
            Earlier with { Repaired = [] },
            Earlier with { OrderId = Again.OrderId },
        ],
        Window));

    [Fact]
    public void The_repair_with_the_same_cylinder_comes_before_a_later_one_of_another()
    {
        var later = Cases.Repair(1050, 20) with { Repaired = [new("injector-clogged", Place.Cylinder(1))] };

        Assert.Equal([1042, 1050], ComebackProposal.For(Again, [later, Earlier], Window).Select(p => p.Number));
    }

    [Fact]
    public void A_code_of_an_injector_names_its_cylinder_and_a_bank_its_bank()
    {
        var injector = Again with { Codes = ["P0204"], When = [], ConcernText = "" };
        var bank = injector with { Codes = [], Places = [Place.Bank(2)] };

        Assert.Contains(ComebackProposal.For(injector, [Earlier], Window)[0].Reasons, r => r.Kind == ComebackReasonKind.SameCylinder);
        Assert.Contains(
            ComebackProposal.For(bank, [Earlier with { Repaired = [new("intake-leak-common", Place.Bank(2))] }], Window)[0].Reasons,
            r => r.Text == "Bank 2 shows the trouble again.");
    }

    [Fact]
    public void The_order_of_the_cases_does_not_matter_and_all_lie_in_the_window()
    {
        var cases = Gen.Select(Gen.Int[0, 120], Gen.Int[40_000, 60_000], Gen.Int[1, 6], (day, km, cylinder) => (day, km, cylinder)).Array[0, 12];
        Gen.Select(cases, Gen.Int[1, 120]).Sample((drawn, day) =>
        {
            RepairCase[] earlier =
                [.. drawn.Select((c, i) => Cases.Repair(1001 + i, c.day, c.km) with { Repaired = [new("coil-failed", Place.Cylinder(c.cylinder))] })];
            var order = Again with { CameInOn = Cases.Day(day) };
            var proposals = ComebackProposal.For(order, earlier, Window);
            Assert.Equal(proposals.Select(p => p.Number), ComebackProposal.For(order, earlier.Reverse(), Window).Select(p => p.Number));
            Assert.All(proposals, p => Assert.True(Window.Holds(p.Days, p.Kilometres) && p.Strength >= 0));
            Assert.Equal(proposals.Select(p => p.Strength).OrderDescending(), proposals.Select(p => p.Strength));
            Assert.Equal(
                drawn.Count(c => day >= c.day && day - c.day <= 90 && (c.km > 50_900 || 50_900 - c.km <= 5_000)), proposals.Length);
        });
    }

    [Theory]
    [InlineData(0, 5)]
    [InlineData(5, 0)]
    public void A_window_holds_something(int days, int kilometres) => Assert.Throws<ArgumentOutOfRangeException>(() => new ComebackWindow(days, kilometres));

    [Fact]
    public void Every_reason_has_a_weight() => Assert.All(Enum.GetValues<ComebackReasonKind>(), k => Assert.True(ComebackWeights.Of(k) > 0));
}
