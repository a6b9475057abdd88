using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Tests.WorkupViews;

public sealed class WordsTests
{
    [Theory]
    [InlineData(1.0, "all but certain")]
    [InlineData(0.95, "all but certain")]
    [InlineData(0.94, "very likely")]
    [InlineData(0.5, "more likely than not")]
    [InlineData(0.25, "quite possible")]
    [InlineData(0.1, "possible")]
    [InlineData(0.03, "not likely")]
    [InlineData(0.005, "unlikely")]
    [InlineData(0.0, "all but ruled out")]
    public void A_probability_has_a_plain_word(double probability, string word) => Assert.Equal(word, LikelyWords.For(probability));

    [Theory]
    [InlineData(0.9999, "over 99 %")]
    [InlineData(0.406, "41 %")]
    [InlineData(0.005, "1 %")]
    [InlineData(0.0001, "under 1 %")]
    public void A_percentage_never_claims_a_certainty(double probability, string text) => Assert.Equal(text, LikelyWords.Percent(probability));

    [Theory]
    [InlineData(1 / 22.4, "about 1 in 22")]
    [InlineData(1 / 347.0, "about 1 in 350")]
    [InlineData(1 / 12345.0, "about 1 in 12,000")]
    [InlineData(0.5, "about 50 %")]
    [InlineData(0.0, "never")]
    public void How_common_a_cause_is_has_two_figures(double probability, string text) => Assert.Equal(text, LikelyWords.OneIn(probability));

    [Theory]
    [InlineData(5.2, "speaks strongly for it", "+5.2 bits", "37 times as likely with this fault")]
    [InlineData(2.1, "speaks clearly for it", "+2.1 bits", "4.3 times as likely with this fault")]
    [InlineData(-1.0, "speaks somewhat against it", "−1.0 bit", "2.0 times as likely without this fault")]
    [InlineData(-0.3, "speaks slightly against it", "−0.3 bits", "1.2 times as likely without this fault")]
    [InlineData(0.02, "hardly speaks either way", "+0.0 bits", "1.0 times as likely with this fault")]
    [InlineData(20.0, "speaks strongly for it", "+20.0 bits", "over 1,000 times as likely with this fault")]
    public void The_weight_of_a_reading_is_said_in_words_bits_and_odds(double bits, string side, string shown, string factor)
    {
        Assert.Equal(side, WeightWords.Side(bits));
        Assert.Equal(shown, WeightWords.Bits(bits));
        Assert.Equal(factor, WeightWords.Factor(bits));
    }

    [Theory]
    [InlineData("power-balance", "dead", "cross")]
    [InlineData("power-balance", "weak", "hatch")]
    [InlineData("power-balance", "contributing", "solid")]
    [InlineData("misfire-counts", "misfiring", "dots")]
    [InlineData("spark-output", "none", "hatch")]
    [InlineData("compression-dry", "good", "solid")]
    [InlineData("coil-swap", "stays", "solid")] // What a sound coil shows: nothing to look at twice.
    [InlineData("coil-swap", "follows", "hatch")]
    public void An_outcome_carries_the_pattern_of_the_engine_plan(string test, string outcome, string pattern)
    {
        var aspect = Knowledge.Shipped.Aspect(test)!.Value.Aspect;
        Assert.Equal(pattern, OutcomeMark.Of(ABench.Finding(test, Place.Cylinder(1), outcome), aspect).Pattern);
    }

    [Fact]
    public void What_cannot_be_told_says_so_in_a_word_and_a_pattern_of_its_own()
    {
        var mark = OutcomeMark.Of(ABench.Finding("power-balance", Place.Cylinder(1), null), Knowledge.Shipped.Aspect("power-balance")!.Value.Aspect);
        Assert.Equal(new OutcomeMark("can't tell", "stripes"), mark);
    }

    [Fact]
    public void Every_outcome_of_the_shipped_tests_has_a_word_and_a_known_pattern()
    {
        foreach (var (aspect, outcome) in Knowledge.Shipped.Tests.SelectMany(t => t.Aspects).SelectMany(a => a.Outcomes.Select(o => (a, o))))
        {
            var mark = OutcomeMark.Of(ABench.Finding("any", Place.Engine, outcome.Id, aspect: aspect.Id), aspect);
            Assert.NotEmpty(mark.Word);
            Assert.InRange(OutcomeMark.Rank(mark.Pattern), 1, 5);
        }
    }

    public static TheoryData<Place, string> Places => new()
    {
        { Place.Engine, "e" }, { Place.Bank(2), "b2" }, { Place.Cylinder(12), "c12" }, { Place.Pair(6, 4), "p4-6" },
    };

    [Theory]
    [MemberData(nameof(Places))]
    public void A_place_survives_the_way_through_its_key(Place place, string key)
    {
        Assert.Equal(key, PlaceWords.Key(place));
        Assert.Equal(place, PlaceWords.Read(key));
    }

    [Theory]
    [InlineData("")]
    [InlineData("c")]
    [InlineData("c0")]
    [InlineData("cx")]
    [InlineData("p4-4")]
    [InlineData("x3")]
    public void What_is_no_place_is_none(string key) => Assert.Null(PlaceWords.Read(key));

    [Theory]
    [InlineData(Stage.Before, "order:{0}:cell:compression-dry:c3:kPa")]
    [InlineData(Stage.After, "order:{0}:cell:compression-dry:c3+after:kPa")]
    public void A_draft_is_found_again_under_its_cell_and_field(Stage stage, string format)
    {
        var order = Guid.NewGuid();
        var cell = new CellKey("compression-dry", Place.Cylinder(3), stage);
        var key = cell.DraftKey(order, "kPa");
        Assert.Equal(string.Format(System.Globalization.CultureInfo.InvariantCulture, format, order), key);
        Assert.Equal((cell, "kPa"), CellKey.ReadDraft(order, key));
        Assert.Null(CellKey.ReadDraft(Guid.NewGuid(), key));
    }

    [Fact]
    public void Readings_are_said_in_the_units_of_the_shop()
    {
        var kPa = 145 * 6.894757293168361;
        Assert.Equal("145 psi", ReadingText.InFull(ABench.Compression(1, kPa), ABench.Test("compression-dry"), ABench.Us));
        Assert.Equal("1,000 kPa", ReadingText.InFull(ABench.Compression(1, kPa), ABench.Test("compression-dry"), ABench.Metric));
    }

    [Fact]
    public void Yes_alone_says_what_to_and_conditions_are_named_by_their_words()
    {
        string Said(string test, string field, FieldValue value) => ReadingText.InFull(ABench.Reading(test, Place.Engine, (field, value)), ABench.Test(test), ABench.Us);
        Assert.Equal("Misfire gone when blocked: Yes", Said("egr-block", "misfireGone", FieldValue.Of("yes")));
        Assert.Equal("At idle, In the wet", Said("road-check", "conditions", FieldValue.Of("idle", "wet")));
        Assert.Equal("It did not misfire during the drive", Said("road-check", "conditions", FieldValue.Null));
        Assert.Equal("Clean and clear", Said("fuel-sample", "seen", FieldValue.Of("clean")));
    }

    [Fact]
    public void A_reading_of_several_fields_names_them()
    {
        var swap = ABench.Reading("coil-swap", Place.Cylinder(4), ("swappedWith", FieldValue.Of(1)), ("misfireMovedTo", FieldValue.Null));
        Assert.Equal("Swapped with cylinder: 1, Misfire is now on cylinder: The misfire went away", ReadingText.InFull(swap, ABench.Test("coil-swap"), ABench.Us));
    }
}
