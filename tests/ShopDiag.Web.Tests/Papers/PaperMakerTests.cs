using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Estimates;
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
