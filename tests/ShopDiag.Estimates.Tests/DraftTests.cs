using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Estimates.Tests;

public sealed class DraftTests
{
    private static readonly ShopPricing Pricing = new() { PartsTaxBasisPoints = 825, SuppliesBasisPoints = 500, SuppliesMostMinor = 2500 };

    private static ImmutableArray<EstimateLine> Draft(DraftSource source, PriceList? prices = null, ShopPricing? pricing = null) =>
        EstimateDraft.Of(source, Knowledge.Shipped, prices ?? PriceList.Empty, pricing ?? Pricing);

    [Fact]
    public void A_failed_coil_asks_for_coil_plug_labour_with_access_and_the_diagnosis()
    {
        var lines = Draft(Samples.CoilOnFour());
        Assert.Equal(["Diagnosis as agreed", "Ignition coil", "Spark plug", "Labour: ignition coil failed, cylinder 4", "Shop supplies"], lines.Select(l => l.Text));
        Assert.Equal(["", "cylinder 4", "cylinder 4", "", ""], lines.Select(l => l.Position));
        Assert.True(lines[2].Together);
        // 20 minutes for a coil and 40 for the covered bank: one hour.
        Assert.Equal((1000, 12000L), (lines[3].Thousandths, lines[3].PriceMinor));
        // 5 % of an hour at 120.00; the agreed diagnosis is no labour by the hour.
        Assert.Equal(600, lines[4].PriceMinor);
    }

    [Fact]
    public void Supplies_stop_at_the_most_that_the_shop_set() =>
        Assert.Equal(450, Draft(Samples.CoilOnFour(), pricing: Pricing with { SuppliesMostMinor = 450 })[^1].PriceMinor);

    [Fact]
    public void Access_to_a_bank_is_paid_once_for_two_causes_on_it()
    {
        var two = Samples.CoilOnFour() with { Causes = [new("coil-failed", Place.Cylinder(4)), new("coil-failed", Place.Cylinder(6))] };
        var labour = Draft(two).Where(l => l.Cause == "coil-failed" && l.Kind == LineKind.Labour).Select(l => l.Thousandths);
        Assert.Equal([1000L, 333L], labour);
    }

    [Fact]
    public void Parts_of_an_unproven_cause_are_held_back_until_somebody_says_why()
    {
        var lines = Draft(Samples.CoilOnFour(unproven: true));
        Assert.All(lines.Where(l => l.Kind == LineKind.Part), l => Assert.True(l.Held));
        var released = lines.Select(l => l.Kind == LineKind.Part ? l with { GoAhead = new("Customer wants the coil now", "Ana", DateTime.UnixEpoch) } : l).ToImmutableArray();
        Assert.All(released, l => Assert.False(l.Held));
        // A new draft does not forget it.
        Assert.All(EstimateDraft.Merge(released, lines, Pricing), l => Assert.False(l.Held));
    }

    [Fact]
    public void The_list_knows_prices_times_and_fees()
    {
        var prices = new PriceList(
        [
            new() { Kind = LineKind.Part, Name = "ignition  COIL", PriceMinor = 6400, CoreMinor = 500, Vendor = "Harbour Parts", PartNumber = "IC-4" },
            new() { Kind = LineKind.Part, Name = "Ignition coil", For = "marlow V6", PriceMinor = 8900 },
            new() { Kind = LineKind.Part, Name = "Ignition coil", For = "Marlow V8", PriceMinor = 9900 },
            new() { Kind = LineKind.Labour, Name = "Ignition coil failed", Minutes = 36 },
            new() { Kind = LineKind.Fee, Name = "Disposal", PriceMinor = 350, EveryOrder = true },
        ]);
        var lines = Draft(Samples.CoilOnFour(), prices);
        Assert.Equal(8900, lines.Single(l => l.Text == "Ignition coil").PriceMinor);
        Assert.Equal(600, lines.Single(l => l.Cause == "coil-failed" && l.Kind == LineKind.Labour).Thousandths);
        Assert.Equal(350, lines.Single(l => l.Text == "Disposal").PriceMinor);
        Assert.Equal("Harbour Parts", Draft(Samples.CoilOnFour() with { Car = "another car" }, prices).Single(l => l.Text == "Ignition coil").Vendor);
    }

    [Fact]
    public void What_a_person_entered_stays_when_the_finding_changes()
    {
        var first = Draft(Samples.CoilOnFour());
        var edited = first.Select(l => l.Text == "Ignition coil" ? l with { PriceMinor = 7700, Edited = true } : l)
            .Append(Samples.Line(LineKind.Fee, 1000, 1200, key: 77)).ToImmutableArray();
        var other = Draft(Samples.CoilOnFour() with { Causes = [new("injector-clogged", Place.Cylinder(2))] });
        var merged = EstimateDraft.Merge(edited, other, Pricing);
        Assert.Contains(merged, l => l.Text == "Ignition coil" && l.PriceMinor == 7700);
        Assert.Contains(merged, l => l.PriceMinor == 1200);
        Assert.DoesNotContain(merged, l => l.Text == "Spark plug" && l.Position == "cylinder 4");
        Assert.Contains(merged, l => l.Cause == "injector-clogged");
    }

    [Fact]
    public void Drafting_again_changes_nothing_and_brings_nothing_back()
    {
        var lines = Draft(Samples.CoilOnFour());
        var without = lines.Select(l => l.Text == "Spark plug" ? l with { Removed = true } : l).ToImmutableArray();
        Assert.Equal(without.AsEnumerable(), EstimateDraft.Merge(without, lines, Pricing));
    }

    [Fact]
    public void Every_cause_of_the_knowledge_gives_an_estimate()
    {
        foreach (var cause in Knowledge.Shipped.Causes)
        {
            var at = cause.Scope switch
            {
                CauseScope.Cylinder => Place.Cylinder(4),
                CauseScope.Companions or CauseScope.Neighbours => Place.Pair(4, 6),
                CauseScope.Bank => Place.Bank(2),
                _ => Place.Engine,
            };
            var lines = Draft(Samples.CoilOnFour() with { Causes = [new(cause.Id, at)] });
            Assert.Equal(lines.Length, lines.Select(l => l.Id).Distinct().Count());
            Assert.All(lines, l => Assert.InRange(l.Thousandths, 0, 10_000_000));
        }
    }
}
