using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Tests.Support;
using ShopDiag.Web.Tests.WorkupViews;

namespace ShopDiag.Web.Tests.Papers;

/// <summary>What the papers of an order say.</summary>
public sealed class PaperMakerTests : IAsyncLifetime
{
    private TestShop _shop = null!;

    private PaperMaker Maker => new(Knowledge.Shipped, _shop.Time, _shop.Logo);

    public async ValueTask InitializeAsync() => _shop = await TestShop.OpenAsync();

    public async ValueTask DisposeAsync() => await _shop.DisposeAsync();

    [Fact]
    public void An_answer_of_today_stands_with_its_date_for_a_paper_is_read_later()
    {
        var now = _shop.Time.GetUtcNow().UtcDateTime;
        var order = ABench.Order(Array.Empty<Reading>()) with
        {
            Approvals = [new Approval { Id = Guid.NewGuid(), At = now, By = "Ruth", Person = "Odile", Way = ApprovalWay.Phone, Decisions = [] }],
        };
        var said = Assert.Single(Maker.Bill(order, new ShopSettings()).Approvals).When;
        Assert.DoesNotContain("today", said, StringComparison.Ordinal);
        Assert.Contains(now.Year.ToString(System.Globalization.CultureInfo.InvariantCulture), said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bench_sheet_keeps_readings_after_the_repair_apart_from_those_before()
    {
        var order = ABench.Order(ABench.Spark(4, "none"), ABench.Spark(4, "steady") with { Stage = Stage.After });
        var tests = Maker.Bench(order, new ShopSettings(), blank: false)!.Tests;
        Assert.Equal(["Spark output", "Spark output, after the repair"], tests.Select(t => t.Title));
        Assert.All(tests, t => Assert.Equal(Place.Cylinder(4), Assert.Single(t.Readings).At));
        Assert.Equal(["none", "strong"], tests.Select(t => t.Readings[0].Outcome));
    }

    [Fact]
    public void A_blank_bench_sheet_says_nothing_of_readings_that_were_taken()
    {
        var order = ABench.Order(ABench.Compression(4, 300), ABench.Compression(4, 1100) with { Stage = Stage.After });
        var (filled, blank) = (Maker.Bench(order, new ShopSettings(), blank: false)!, Maker.Bench(order, new ShopSettings(), blank: true)!);
        Assert.NotEmpty(filled.Cautions);
        Assert.DoesNotContain(blank.Cautions, c => filled.Cautions.Contains(c));
        Assert.All(blank.Tests, t => Assert.Empty(t.Readings));
        Assert.NotEmpty(blank.Tests);
    }

    [Fact]
    public void A_bench_sheet_marks_what_could_not_be_taken_and_says_why_and_by_whom()
    {
        var order = ABench.Order(ABench.Compression(1, 1100), ABench.Compression(4, 300), ABench.Spark(4, "none"), ABench.Spark(4, "steady") with { Stage = Stage.After }) with
        {
            Obstacles =
            [
                Said("leak-down", Place.Cylinder(2), "no room"), Said("compression-dry", Place.Cylinder(3), "thread stripped"), Said("leak-down", Place.Engine, ""), Said("leak-down", Place.Cylinder(9), "no such cylinder"),
                Said("injector-sound", Place.Cylinder(2), "") with { EndedBy = "Lena", EndedAt = ABench.Noon.UtcDateTime },
                // Read before it was said: the reading stays.
                Said("compression-dry", Place.Cylinder(4), "broke since"),
            ],
        };
        var (filled, blank) = (Maker.Bench(order, new ShopSettings(), blank: false)!, Maker.Bench(order, new ShopSettings(), blank: true)!);
        Assert.Equal(["Spark output", "Compression, dry", "Leak-down", "Spark output, after the repair"], filled.Tests.Select(t => t.Title));
        Assert.Equal([(1, false), (4, false), (3, true)], filled.Tests[1].Readings.Select(r => (r.At.First, r.Outcome == "not possible")));
        Assert.Equal(new ReadingOnPaper(Place.Engine, "", "not possible on this car", Verdict.Neutral), Assert.Single(filled.Tests[2].Readings));
        Assert.Equal(4, filled.NotPossible.Length);
        Assert.StartsWith("Compression, dry, cylinder 3: thread stripped (Rosa, Tue 14 Apr 2026", filled.NotPossible[0], StringComparison.Ordinal);
        Assert.StartsWith("Leak-down (Rosa, ", filled.NotPossible[2], StringComparison.Ordinal);
        Assert.StartsWith("Leak-down, cylinder 2: no room (Rosa, ", filled.NotPossible[3], StringComparison.Ordinal);

        Assert.Equal(filled.NotPossible, blank.NotPossible);
        Assert.DoesNotContain(blank.Tests, t => t.Title == "Leak-down");
        Assert.Equal([3, 4], blank.Tests.Single(t => t.Title == "Compression, dry").Readings.Select(r => r.At.First));
        // The customer is told what was found, not what could not be looked at.
        Assert.Equal(["Spark output", "Compression, dry"], Maker.Customer(order, new ShopSettings()).Tests.Select(t => t.Title));

        static StoredObstacle Said(string test, Place at, string why) => new() { Id = Guid.NewGuid(), Obstacle = new Obstacle(test, at) { Why = why }, By = "Rosa", SaidAt = ABench.Noon.UtcDateTime };
    }

    [Fact]
    public void A_check_after_the_repair_that_cannot_be_taken_any_more_says_so()
    {
        var order = ABench.Order(ABench.Compression(1, 1100), ABench.Compression(4, 300), ABench.Compression(1, 1100) with { Stage = Stage.After });
        string Outcome(RepairOrder of) => Assert.Single(Maker.Bill(of, new ShopSettings()).RepairCheck!.Lines, l => l.Where == "cylinder 4").Outcome;
        Assert.Equal("not taken again", Outcome(order));
        var said = new StoredObstacle { Id = Guid.NewGuid(), Obstacle = new("compression-dry", Place.Cylinder(4)), By = "", SaidAt = ABench.Noon.UtcDateTime };
        Assert.Equal("could not be taken again", Outcome(order with { Obstacles = [said] }));
    }

    [Fact]
    public void A_reading_after_the_repair_that_cannot_tell_is_not_called_mended()
    {
        static Reading Trims(double idle, Stage stage) => new()
        {
            Test = "fuel-trims", At = Place.Bank(1), Stage = stage, Value = new ReadingValue([new("idle.shortPercent", FieldValue.Of(0)), new("idle.longPercent", FieldValue.Of(idle))]),
        };
        // Lean at idle alone is no answer; after that, within the limit is one.
        string Outcome(double idle) => Assert.Single(Maker.Bill(ABench.Order(Trims(-24, Stage.Before), Trims(idle, Stage.After)), new ShopSettings()).RepairCheck!.Lines).Outcome;
        Assert.Equal(("cannot tell", "mended", "still wrong"), (Outcome(24), Outcome(1), Outcome(-22)));
    }
}
