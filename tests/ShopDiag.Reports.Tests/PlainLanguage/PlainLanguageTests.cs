using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports.Tests.PlainLanguage;

public sealed class PlainLanguageTests
{
    /// <summary>What all of it together may ask of a reader: the eighth year of school.</summary>
    private const double HighestTogether = 8.5;

    /// <summary>What no single sentence may ask beyond.</summary>
    private const double HighestSentence = 12;

    private static readonly string[] Blaming = ["your fault", "you should have", "neglect", "careless", "ignored", "abuse", "failed to maintain", "wrongly", "botched", "poor work"];

    private static readonly string[] Frightening = ["wreck", "destroy", "ruin", "explode", "deadly", "lethal", "disaster", "doom", "catastroph", "die ", "dangerous", "nightmare"];

    public static TheoryData<string> Told => [.. Everything()];

    [Fact]
    public void What_customers_are_told_reads_at_about_the_eighth_grade()
    {
        var told = Everything().ToList();

        Assert.True(told.Count > 120, $"Only {told.Count} sentences were found.");
        Assert.InRange(Readability.Grade(told), 3, HighestTogether);
        Assert.InRange(told.Average(sentence => Readability.Grade([sentence])), 3, HighestTogether);
    }

    [Fact]
    public void What_each_cause_says_reads_at_about_the_eighth_grade() =>
        Assert.InRange(Readability.Grade([.. Knowledge.Shipped.Causes.SelectMany(OfCause)]), 3, HighestTogether);

    [Theory]
    [MemberData(nameof(Told))]
    public void No_sentence_asks_more_than_twelve_years_of_school(string sentence) =>
        Assert.InRange(Readability.Grade([sentence]), -20, HighestSentence);

    [Theory]
    [MemberData(nameof(Told))]
    public void No_sentence_blames_or_frightens(string sentence) =>
        Assert.DoesNotContain([.. Blaming, .. Frightening], word => (sentence + " ").Contains(word, StringComparison.OrdinalIgnoreCase));

    [Fact]
    public void The_report_says_the_sentences_that_are_tested()
    {
        using var flashing = new ReadPdf(Papers.CustomerReport(SamplesOfMoney.FullCase with { DefaultLimitUsed = true }, PaperSize.Letter));

        Assert.All(
            [CustomerWording.FlashingLead + " " + CustomerWording.FlashingAdvice, CustomerWording.DefaultLimit, CustomerWording.Order, CustomerWording.OrderNow, CustomerWording.OrderAll],
            said => Assert.Contains(said, flashing.Text, StringComparison.Ordinal));
        Assert.All(CustomerWording.Sentences, sentence => Assert.False(string.IsNullOrWhiteSpace(sentence)));
    }

    [Theory]
    [InlineData(1, "spark", "valve", "valves", "coil", "fails", "burned", "shakes", "lets", "hours", "3", "through", "leaked", "closed")]
    [InlineData(2, "engine", "piston", "opens", "measured", "closes", "idle", "reaches", "fuel", "mixture", "damage", "pieces", "started", "deeper", "ruins", "power", "sometimes")]
    [InlineData(3, "cylinder", "ignition", "injector", "converter", "overheats", "computer", "vehicle", "connections", "signature", "insulate", "battery")]
    [InlineData(4, "catalytic", "insulator", "manufactured", "material's")]
    [InlineData(5, "recirculation", "electricity", "acceleration")]
    public void Syllables_are_counted_as_a_dictionary_counts_them(int syllables, params string[] words) =>
        Assert.All(words, word => Assert.Equal((word, syllables), (word, Syllables.In(word))));

    [Fact]
    public void The_grade_follows_the_published_formula()
    {
        // 6 words of 6 syllables, then 7 words of 17.
        Assert.Equal((0.39 * 6) + 11.8 - 15.59, Readability.Grade(["The cat sat on the mat."]), 1e-9);
        Assert.Equal((0.39 * 7) + (11.8 * 17 / 7) - 15.59, Readability.Grade(["The ignition computer measured cylinder connections again."]), 1e-9);
        Assert.Equal(((0.39 * 13) / 2) + (11.8 * 23 / 13) - 15.59, Readability.Grade(["The cat sat on the mat.", "The ignition computer measured cylinder connections again."]), 1e-9);
    }

    [Fact]
    public void Sentences_end_at_full_stops_and_not_at_semicolons_or_figures() =>
        Assert.Equal(["It is 2.5 volts; too low.", "Stop!", "Is it off?"], Readability.Sentences("It is 2.5 volts; too low. Stop! Is it off?"));

    private static IEnumerable<string> Everything() => Knowledge.Shipped.Causes.SelectMany(OfCause)
        .Concat(Knowledge.Shipped.Tests.SelectMany(t => Readability.Sentences(t.Plainly)))
        .Concat(CustomerWording.Sentences)
        .Distinct();

    private static IEnumerable<string> OfCause(Cause cause) =>
        new[] { cause.ForCustomer, cause.IfLeft }.SelectMany(text => Readability.Sentences(RepairPlan.InWords(text, PlaceOf(cause.Scope))));

    private static Place PlaceOf(CauseScope scope) => scope switch
    {
        CauseScope.Cylinder => Place.Cylinder(3),
        CauseScope.Bank => Place.Bank(1),
        CauseScope.Companions => Place.Pair(1, 4),
        CauseScope.Neighbours => Place.Pair(2, 3),
        CauseScope.Engine => Place.Engine,
        _ => throw new ArgumentOutOfRangeException(nameof(scope), scope, "Unknown scope of a cause."),
    };
}
