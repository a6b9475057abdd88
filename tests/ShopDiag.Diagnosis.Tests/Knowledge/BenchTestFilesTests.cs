using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.Tests;

/// <summary>The rules of the house for <c>BenchTests/*/test.json</c> and <c>Limits/limits.json</c>.</summary>
public sealed class BenchTestFilesTests
{
    private static readonly string[] Chapters = ["Which cylinder", "Ignition", "Fuel", "Air", "Mechanical"];

    public static TheoryData<string> Tests => [.. Knowledge.Shipped.Tests.Select(t => t.Id)];

    public static TheoryData<string> Limits => [.. Knowledge.Shipped.Limits.Keys.Order(StringComparer.Ordinal)];

    [Fact]
    public void The_sheet_has_its_tests_in_the_order_of_the_work() => Assert.Equal(
        [
            "trouble-codes", "misfire-counts", "power-balance", "runner-temperature", "road-check", "spark-output", "coil-swap",
            "coil-feed", "coil-control", "coil-resistance", "computer-output", "leads-and-cap", "plug-condition", "plug-swap",
            "system-voltage", "crank-signal", "injector-sound", "injector-resistance", "injector-control", "injector-swap", "injector-drop", "fuel-pressure",
            "fuel-sample", "intake-leak", "fuel-trims", "air-signal", "enrichment", "egr-block", "exhaust-backpressure", "cranking-current", "compression-dry",
            "compression-wet", "compression-running", "leak-down", "borescope", "intake-ports", "manifold-vacuum", "cam-timing", "valve-lift",
            "valve-clearance", "valve-springs", "combustion-gas-in-coolant",
        ],
        Knowledge.Shipped.Tests.Select(t => t.Id));

    [Fact]
    public void Chapters_follow_each_other_whole() =>
        Assert.Equal(Chapters, Knowledge.Shipped.Tests.Select(t => t.Chapter).Aggregate(new List<string>(), (seen, c) => seen.LastOrDefault() == c ? seen : [.. seen, c]));

    [Theory]
    [MemberData(nameof(Tests))]
    public void A_test_says_what_it_is_for_how_to_do_it_what_can_hurt_and_where_it_comes_from(string id)
    {
        var test = Knowledge.Shipped.Test(id)!;
        Assert.All([test.Title, test.Purpose, test.Plainly, test.Source], s => Assert.False(string.IsNullOrWhiteSpace(s)));
        Assert.InRange(test.HowTo.Length, 3, 6);
        Assert.NotEmpty(test.Cautions);
        Assert.All([test.Purpose, test.Plainly, test.Source, .. test.HowTo, .. test.Cautions], s => Assert.EndsWith(".", s, StringComparison.Ordinal));
        Assert.All(test.HowTo.Concat(test.Cautions), s => Assert.InRange(s.Length, 10, 240));
    }

    [Theory]
    [MemberData(nameof(Tests))]
    public void A_test_has_times_a_slip_and_an_evaluation_that_exists(string id)
    {
        var test = Knowledge.Shipped.Test(id)!;
        Assert.InRange(test.FirstMinutes, 1, 60);
        Assert.InRange(test.EachMinutes, 0.1, test.FirstMinutes);
        Assert.InRange(test.Slip, 0.001, 0.2);
        Assert.Contains(test.Evaluation, Evaluations.All.Keys);
    }

    [Theory]
    [MemberData(nameof(Tests))]
    public void Fields_have_names_of_their_own_and_ranges_that_hold_together(string id)
    {
        var fields = Knowledge.Shipped.Test(id)!.Fields;
        Assert.NotEmpty(fields);
        Assert.Equal(fields.Length, fields.Select(f => f.Name).Distinct().Count());
        Assert.Contains(fields, f => !f.Optional);
        foreach (var field in fields)
        {
            Assert.False(string.IsNullOrWhiteSpace(field.Label));
            Assert.Equal(field.Kind == FieldKind.Number, field.Quantity is not null);
            Assert.Equal(field.Kind is FieldKind.Choice or FieldKind.Choices, field.Choices.Length > 1);
            Assert.Equal(field.MayBeNull, field.NullMeans is not null);
            Assert.Equal(field.Choices.Length, field.Choices.Select(c => c.Id).Distinct().Count());
        }
    }

    [Theory]
    [MemberData(nameof(Tests))]
    public void A_number_has_a_known_quantity_and_is_likely_within_what_is_possible(string id)
    {
        foreach (var field in Knowledge.Shipped.Test(id)!.Fields.Where(f => f.Kind == FieldKind.Number))
        {
            Assert.True(Quantity.All.ContainsKey(field.Quantity!), field.Name);
            Assert.True(field.Min < field.Max, field.Name);
            Assert.True((field.LikelyMin ?? field.Min) >= field.Min, field.Name);
            Assert.True((field.LikelyMax ?? field.Max) <= field.Max, field.Name);
            Assert.True((field.LikelyMin ?? field.Min) < (field.LikelyMax ?? field.Max), field.Name);
        }
    }

    [Theory]
    [MemberData(nameof(Tests))]
    public void A_sound_engine_shows_every_outcome_at_times_and_mostly_a_good_one(string id)
    {
        foreach (var aspect in Knowledge.Shipped.Test(id)!.Aspects)
        {
            Assert.True(aspect.Outcomes.Length >= 2, aspect.Id);
            Assert.All(aspect.Outcomes, o => Assert.InRange(o.Healthy, 0.001, 0.999));
            Assert.Equal(1, aspect.Outcomes.Sum(o => o.Healthy), 1e-9);
            Assert.Equal(aspect.Outcomes.Length, aspect.Outcomes.Select(o => o.Id).Distinct().Count());
            Assert.All(aspect.Outcomes.Where(o => o.Good), o => Assert.Equal(aspect.Outcomes.Max(a => a.Healthy), o.Healthy));
        }
    }

    [Theory]
    [MemberData(nameof(Tests))]
    public void An_as_given_test_offers_exactly_its_outcomes(string id)
    {
        var test = Knowledge.Shipped.Test(id)!;
        if (test.Evaluation == "as-given")
        {
            Assert.Equal(test.Fields.Single(f => f.Kind == FieldKind.Choice).Choices.Select(c => c.Id), test.Aspects.Single().Outcomes.Select(o => o.Id));
        }
    }

    [Theory]
    [MemberData(nameof(Limits))]
    public void A_limit_has_a_source_a_known_quantity_and_a_default_a_shop_may_set(string id)
    {
        var limit = Knowledge.Shipped.Limits[id];
        Assert.False(string.IsNullOrWhiteSpace(limit.Source));
        Assert.False(string.IsNullOrWhiteSpace(limit.Title));
        Assert.True(Quantity.All.ContainsKey(limit.Quantity), limit.Quantity);
        Assert.True(limit.Min < limit.Max);
        Assert.InRange(limit.Default, limit.Min, limit.Max);
    }

    [Theory]
    [MemberData(nameof(Limits))]
    public void A_limits_id_ends_with_its_unit(string id)
    {
        var unit = Quantity.All[Knowledge.Shipped.Limits[id].Quantity].Base.Id.ToLowerInvariant();
        Assert.EndsWith("-" + unit, id, StringComparison.Ordinal);
    }
}
