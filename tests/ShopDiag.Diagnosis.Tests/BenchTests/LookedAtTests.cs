using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>Borescope, cam timing and combustion gas: what the technician saw is the outcome.</summary>
public sealed class LookedAtTests
{
    public static TheoryData<string, string, string> Seen => new(
        from test in new[] { "borescope", "cam-timing" }
        let described = Knowledge.Shipped.Test(test)!
        from choice in described.Fields.Single().Choices
        select new TheoryDataRow<string, string, string>(test, described.Fields.Single().Name, choice.Id));

    [Theory]
    [MemberData(nameof(Seen))]
    public void What_was_seen_is_the_outcome(string test, string field, string seen) =>
        Assert.Equal(seen, JudgeOne(V6, test, At(Where(test), T(field, seen))).Outcome);

    [Theory]
    [InlineData("yes", "found")]
    [InlineData("no", "none")]
    public void Combustion_gas_is_found_or_not(string found, string outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "combustion-gas-in-coolant", At(Place.Engine, T("found", found))).Outcome);

    [Theory]
    [InlineData("borescope", "seen", "normal", "deposits")]
    [InlineData("cam-timing", "correlation", "good", "off")]
    [InlineData("combustion-gas-in-coolant", "found", "yes", "no")]
    public void Two_looks_that_differ_are_taken_again(string test, string field, string one, string other)
    {
        Reading[] looks = [At(Where(test), T(field, one)), At(Where(test), T(field, other))];
        Assert.True(JudgeOne(V6, test, looks) is { Outcome: null, TrialsDisagree: true });
        Assert.Equal(Judge(V6, test, looks), Judge(V6, test, looks.Reverse()));
        Assert.False(JudgeOne(V6, test, looks[0], looks[0]).TrialsDisagree);
    }

    [Theory]
    [InlineData("borescope", "seen", "purple")]
    [InlineData("cam-timing", "correlation", "late")]
    [InlineData("combustion-gas-in-coolant", "found", "maybe")]
    public void Words_that_are_not_offered_are_refused(string test, string field, string word)
    {
        var described = Knowledge.Shipped.Test(test)!;
        Assert.Equal("value." + field, ReadingCheck.Error(At(Where(test), T(field, word)) with { Test = test }, described, V6)?.At);
    }

    [Theory]
    [InlineData("cranking-current", "relativePercent", -1)]
    [InlineData("compression-running", "idleKPa", 5000)]
    [InlineData("valve-lift", "intakeMm", 30)]
    [InlineData("valve-clearance", "exhaustMm", -0.1)]
    [InlineData("manifold-vacuum", "kPa", 102)]
    [InlineData("exhaust-backpressure", "kPaAt2500", double.NaN)]
    public void Numbers_that_cannot_be_are_refused_and_the_field_is_named(string test, string field, double number)
    {
        var described = Knowledge.Shipped.Test(test)!;
        var at = BenchTest.PlacesOn(V6, described.Scope)[0];
        var good = described.Fields.Where(f => !f.Optional).Select(f => f.Kind == FieldKind.Number ? N(f.Name, f.Name == field ? number : f.LikelyMax ?? f.Max!.Value) : T(f.Name, f.Choices[0].Id));
        Assert.Equal("value." + field, ReadingCheck.Error(At(at, [.. good]) with { Test = test }, described, V6)?.At);
    }

    [Theory]
    [InlineData("valve-lift", Access.ValveCover)]
    [InlineData("valve-clearance", Access.ValveCover)]
    [InlineData("borescope", Access.PlugsOut)]
    [InlineData("compression-running", Access.PlugsOut)]
    [InlineData("cranking-current", Access.None)]
    public void A_test_says_what_must_come_off_first(string test, Access access) => Assert.Equal(access, Knowledge.Shipped.Test(test)!.Access);

    private static Place Where(string test) => BenchTest.PlacesOn(V6, Knowledge.Shipped.Test(test)!.Scope)[0];
}
