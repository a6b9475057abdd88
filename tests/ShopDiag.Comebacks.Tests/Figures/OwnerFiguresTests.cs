using CsCheck;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Comebacks.Statistics;
using ShopDiag.Comebacks.Tests.Statistics;
using ShopDiag.Comebacks.Wire;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Tests.Figures;

public sealed class OwnerFiguresTests
{
    private static readonly OwnerQuestion Question = new() { AsOf = Cases.Day(800), Window = new(365, 20_000) };

    [Fact]
    public void A_group_says_how_many_came_back_and_between_which_rates_the_true_one_lies()
    {
        var group = Assert.Single(OwnerFigures.From(Shop(back: 3, of: 40), Question, Grouping.Diagnosis).Groups);

        Assert.Equal(("coil-failed", 40, 3, 0.075), (group.Key, group.Repairs, group.Comebacks, group.Rate!.Value));
        Assert.Equal(Proportions.Wilson(3, 40), group.RateInterval);
        Assert.False(group.AreSmallNumbers);
        Assert.Equal((37, 40), (group.FirstTimeRight.Right, group.FirstTimeRight.Of));
        Assert.Equal(Enumerable.Range(0, 3).Select(i => new ComebackOrders(Cases.Key(1001 + i), Cases.Key(5001 + i))), group.ComebackOrders);
    }

    [Fact]
    public void The_published_trial_comes_out_when_its_patients_are_repairs_of_two_technicians()
    {
        var figures = OwnerFigures.From([.. Trial("A", PublishedData.SixMp, 1), .. Trial("B", PublishedData.Placebo, 100)], Question, Grouping.Technician);
        var (sixMp, placebo) = (figures.Groups.Single(g => g.Key == "A"), figures.Groups.Single(g => g.Key == "B"));

        Assert.Equal(16.793, figures.Overall!.ChiSquare, 5e-4);
        Assert.Equal(16.793, sixMp.Comparison!.Value.Test.ChiSquare, 5e-4);
        Assert.Equal(16.793, placebo.Comparison!.Value.Test.ChiSquare, 5e-4);
        Assert.Equal(2, figures.Comparisons);
        Assert.True(sixMp.Comparison.Value.Differs);
        Assert.Equal((23, 8), (sixMp.DaysGood.Median, placebo.DaysGood.Median));
        Assert.Equal(0.448179, sixMp.StillGoodDays[0].Share!.Value.Survival, 5e-7);
        Assert.Equal("B", figures.Groups[0].Key);
    }

    [Fact]
    public void Few_repairs_are_said_to_be_few_and_are_not_compared()
    {
        var figures = OwnerFigures.From(
            [.. Shop(5, 9, c => c with { Technician = "Kim" }), .. Shop(30, 100, c => c with { Technician = "Lee" }, first: 2001)], Question, Grouping.Technician);
        var few = figures.Groups.Single(g => g.Key == "Kim");

        Assert.True(few.AreSmallNumbers);
        Assert.All(figures.Groups, g => Assert.Null(g.Comparison));
        Assert.Null(figures.Overall);
        Assert.Equal("Small numbers: 9 repairs. Chance can make any figure of so few.", SmallNumbers.Remark(few.Repairs));
        Assert.Null(SmallNumbers.Remark(10));
        Assert.All(few.StillGoodDays, s => Assert.True(s.IsSmall));
        Assert.InRange(few.ShrunkenRate, figures.Shrinkage.PooledRate, few.Rate!.Value);
    }

    [Fact]
    public void Groups_with_fewer_than_five_comebacks_to_expect_are_not_compared()
    {
        // A third of the repairs and three of the comebacks: half of one group's expectation is not enough to test by chi-square.
        var figures = OwnerFigures.From(
            [.. Shop(3, 30, c => c with { ProofGiven = false }), .. Shop(4, 60, c => c with { ProofGiven = true }, first: 2001)], Question, Grouping.Proof);

        Assert.All(figures.Groups, g => Assert.Null(g.Comparison));
    }

    [Fact]
    public void Skipped_proof_that_brings_cars_back_shows()
    {
        var figures = OwnerFigures.From(
            [.. Shop(30, 100, c => c with { ProofGiven = false }), .. Shop(10, 200, c => c with { ProofGiven = true }, first: 2001)], Question, Grouping.Proof);

        Assert.All(figures.Groups, g => Assert.True(g.Comparison!.Value.Differs));
        Assert.Equal(1, figures.Overall!.DegreesOfFreedom);
        Assert.True(figures.Groups[0].ShrunkenRate > figures.Groups[1].ShrunkenRate);
    }

    [Fact]
    public void Groups_with_too_few_to_expect_are_one_in_the_comparison_of_all()
    {
        IEnumerable<RepairCase> small = Enumerable.Range(0, 20).SelectMany(t => Shop(1, 8, c => c with { Technician = $"Small {t}" }, first: 3001 + (10 * t)));
        var figures = OwnerFigures.From(
            [.. Shop(12, 100, c => c with { Technician = "A" }), .. Shop(13, 100, c => c with { Technician = "B" }, first: 2001), .. small], Question, Grouping.Technician);

        Assert.Equal(2, figures.Comparisons);
        Assert.Equal(2, figures.Overall!.DegreesOfFreedom);
        Assert.Equal([12, 13, 20], figures.Overall.Groups.Select(g => g.Observed));
    }

    [Fact]
    public void An_order_with_two_causes_counts_with_each_and_once_in_all()
    {
        var both = Cases.Repair(1001, 0) with { Repaired = [new("coil-failed", Place.Cylinder(1)), new("coil-failed", Place.Cylinder(2)), new("plug-worn", Place.Cylinder(2))] };
        var figures = OwnerFigures.From([both, Cases.Repair(1002, 0)], Question, Grouping.Diagnosis);

        Assert.Equal([("coil-failed", 2), ("plug-worn", 1)], figures.Groups.Select(g => (g.Key, g.Repairs)));
        Assert.Equal(2, figures.All.Repairs);
        Assert.Null(figures.Overall);
    }

    [Fact]
    public void Names_that_differ_in_capitals_or_blanks_are_one_and_no_parts_are_no_maker()
    {
        RepairCase With(int number, params string[] makers) => Cases.Repair(number, 0) with { Parts = [.. makers.Select(m => new FittedPart("Coil", m, "Corner Parts", false))] };
        var figures = OwnerFigures.From([With(1001, "Arden"), With(1002, " arden", "Bolt"), With(1003, ""), With(1004)], Question, Grouping.PartMaker);

        Assert.Equal([("", 1), ("Arden", 2), ("Bolt", 1)], figures.Groups.OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => (g.Key, g.Repairs)));
        Assert.Equal(3, figures.All.Repairs);
        Assert.Equal([("Corner Parts", 3)], OwnerFigures.From([With(1001, "A", "B"), With(1002, "A"), With(1003, "")], Question, Grouping.Vendor).Groups.Select(g => (g.Key, g.Repairs)));
    }

    [Fact]
    public void What_was_not_said_is_a_group_without_a_name()
    {
        RepairCase[] cases = [Cases.Repair(1001, 0) with { RepairChecked = true, EngineFamily = "coil-on-plug/port/V6" }, Cases.Repair(1002, 0) with { RepairChecked = false }, Cases.Repair(1003, 0)];

        Assert.Equal(["", "done", "skipped"], OwnerFigures.From(cases, Question, Grouping.RepairCheck).Groups.Select(g => g.Key));
        Assert.Equal(["", "coil-on-plug/port/V6"], OwnerFigures.From(cases, Question, Grouping.EngineFamily).Groups.Select(g => g.Key).Order());
        Assert.Equal([""], OwnerFigures.From(cases, Question, Grouping.All).Groups.Select(g => g.Key));
    }

    [Fact]
    public void Sound_cars_that_nobody_reads_the_odometer_of_stay_on_the_curve_over_distance()
    {
        // Five of a hundred come back after 2000 km; the others are never seen again. Counted to their last reading, all would seem to come back.
        var group = OwnerFigures.From(Shop(5, 100, returnKm: 52_000), Question, Grouping.All).All;

        Assert.Equal([0.95, 0.95, 0.95], group.StillGoodKilometres.Select(s => s.Share!.Value.Survival), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(95, group.KilometresEstimated);
    }

    [Fact]
    public void Young_repairs_are_censored_and_do_not_make_the_shop_look_good()
    {
        // Of ten old ones two came back on day 100; ninety were handed over ten days ago.
        RepairCase[] cases =
        [
            .. Enumerable.Range(0, 10).Select(i => Cases.Repair(1001 + i, 0)), Cases.Back(5001, 100, of: 1001), Cases.Back(5002, 100, of: 1002),
            .. Enumerable.Range(0, 90).Select(i => Cases.Repair(2001 + i, 790)),
        ];
        var group = OwnerFigures.From(cases, Question, Grouping.All).All;

        Assert.Equal(0.02, group.Rate);
        Assert.Equal(0.8, group.StillGoodDays[^1].Share!.Value.Survival, 1e-12);
        Assert.Equal((8, 10), (group.FirstTimeRight.Right, group.FirstTimeRight.Of));
        Assert.Equal(90, group.CountOf(Standing.TooEarly));
    }

    [Fact]
    public void A_young_repair_that_came_back_does_not_weigh_in_the_first_time_right()
    {
        RepairCase[] cases = [Cases.Repair(1001, 0), Cases.Repair(1002, 790), Cases.Back(5001, 795, of: 1002), Cases.Repair(1003, 0), Cases.Back(5002, 9, of: 1003, answer: ComebackAnswer.Undecided)];
        var group = OwnerFigures.From(cases, Question, Grouping.All).All;

        Assert.Equal(new FirstTimeRight(1, 1), group.FirstTimeRight);
        Assert.Null(new FirstTimeRight(0, 0).Share);
    }

    [Fact]
    public void Nothing_handed_over_has_no_rate()
    {
        var figures = OwnerFigures.From([], Question, Grouping.Technician);

        Assert.Empty(figures.Groups);
        Assert.Null(figures.All.Rate);
        Assert.All(figures.All.StillGoodDays, s => Assert.Null(s.Share));
    }

    [Fact]
    public void Hours_count_where_both_billed_and_spent_are_known()
    {
        RepairCase[] cases =
        [
            Cases.Repair(1001, 0) with { MinutesAuthorised = 60, MinutesBilled = 90, MinutesSpent = 120 },
            Cases.Repair(1002, 0) with { MinutesBilled = 30, MinutesSpent = 20 },
            Cases.Repair(1003, 0) with { MinutesBilled = 500 },
        ];
        var labour = OwnerFigures.From(cases, Question, Grouping.All).All.Labour;

        Assert.Equal(new LabourMinutes(2, 120, 140, 60), labour);
        Assert.Equal(120 / 140.0, labour.BilledForSpent);
    }

    [Fact]
    public void The_order_of_the_cases_changes_no_figure_and_every_repair_is_of_one_standing()
    {
        var repair = Gen.Select(Gen.Int[0, 700], Gen.Int[0, 3], Gen.Int[0, 5], Gen.Int[0, 400], Gen.Enum<ComebackAnswer>(), (day, who, back, after, answer) => (day, who, back, after, answer));
        Gen.Select(repair.Array[1, 60], Gen.Enum<Grouping>()).Sample((drawn, by) =>
        {
            RepairCase[] cases =
            [
                .. drawn.Select((d, i) => Cases.Repair(1001 + i, d.day, vehicle: i) with { Technician = "ABCD"[d.who].ToString(), ProofGiven = d.who > 1 ? null : d.who == 1 }),
                .. drawn.Select((d, i) => (d, i)).Where(x => x.d.back == 0).Select(x => Cases.Back(5001 + x.i, x.d.day + x.d.after, 1001 + x.i, answer: x.d.answer)),
            ];
            var figures = OwnerFigures.From(cases, Question, by);
            Assert.Equal(Lines(figures), Lines(OwnerFigures.From(cases.Reverse(), Question, by)));
            Assert.All(figures.Groups, g => Assert.Equal(
                g.RepairOrders.Order(),
                Enum.GetValues<Standing>().SelectMany(s => g.OrdersOf(s)).Order()));
            Assert.All(figures.Groups, g => Assert.All(Enum.GetValues<Standing>(), s => Assert.Equal(g.CountOf(s), g.OrdersOf(s).Length)));
            Assert.All(figures.Groups, g => Assert.Equal(g.ComebackOrders.Select(c => c.Repair), g.OrdersOf(Standing.CameBack)));
            Assert.All(figures.Groups, g => Assert.InRange(
                g.ShrunkenRate, Math.Min(g.Rate!.Value, figures.Shrinkage.PooledRate) - 1e-12, Math.Max(g.Rate.Value, figures.Shrinkage.PooledRate) + 1e-12));
        });
    }

    private static string[] Lines(OwnerFigures figures) => [.. OwnerFiguresJson.Lines(figures)];

    /// <summary>Repairs of which the first ones came back a month or more later, one a day.</summary>
    private static IEnumerable<RepairCase> Shop(int back, int of, Func<RepairCase, RepairCase>? with = null, int first = 1001, int returnKm = 51_000) =>
    [
        .. Enumerable.Range(0, of).Select(i => (with ?? (c => c))(Cases.Repair(first + i, 0, vehicle: first + i))),
        .. Enumerable.Range(0, back).Select(i => Cases.Back(first + 4000 + i, 30 + i, of: first + i, km: returnKm, vehicle: first + i)),
    ];

    /// <summary>Patients as repairs: relapse is a comeback, and who was last seen in remission was handed over that long ago.</summary>
    private static IEnumerable<RepairCase> Trial(string technician, Observation[] patients, int first) => patients.SelectMany((p, i) => (RepairCase[])
    [
        Cases.Repair(1000 + first + i, p.Happened ? 0 : 800 - p.Time, vehicle: first + i) with { Technician = technician },
        .. p.Happened ? (RepairCase[])[Cases.Back(5000 + first + i, p.Time, of: 1000 + first + i, vehicle: first + i)] : [],
    ]);
}
