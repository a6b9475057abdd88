using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Web.Engines;

namespace ShopDiag.Web.Tests.Engines;

public sealed class EngineFormTests
{
    [Theory]
    [InlineData("1 3 5 / 2 4 6", "1-2-3-4-5-6", "V6", 2)]
    [InlineData("1,3,5;2,4,6", "1 2 3 4 5 6", "V6", 2)]
    [InlineData("1-2-3-4", "1-3-4-2", "V4", 1)]
    public void An_engine_is_read_as_the_trade_writes_it(string banks, string order, string layout, int count)
    {
        var engine = Form(banks, order).Read().Value;
        Assert.Equal((layout, count), (engine.Spec.Layout, engine.Banks.Length));
    }

    [Theory]
    [InlineData("1 2 3 4", "", EngineForm.FiringOrder)]
    [InlineData("1 2 3 4", "1-3-4-four", EngineForm.FiringOrder)]
    [InlineData("1 2 3 4", "1-3-3-2", EngineForm.FiringOrder)]
    [InlineData("", "1-3-4-2", EngineForm.Banks)]
    [InlineData("1 2 / x", "1-3-4-2", EngineForm.Banks)]
    [InlineData("1 2 3", "1-3-4-2", EngineForm.Banks)]
    public void What_is_wrong_is_said_at_its_field(string banks, string order, string field)
    {
        var error = Form(banks, order).Read().Error;
        Assert.Equal(field, error?.At);
        Assert.NotEmpty(error!.Message);
    }

    [Fact]
    public void Odd_firing_intervals_are_taken_and_wrong_ones_named()
    {
        var form = Form("1 3 5 / 2 4 6", "1-6-5-4-3-2");
        form[EngineForm.Intervals] = "150-90-150-90-150-90";
        Assert.False(form.Read().Value.IsEvenFire);
        form[EngineForm.Intervals] = "150-90";
        Assert.Equal(EngineForm.Intervals, form.Read().Error?.At);
        form[EngineForm.Intervals] = "abc";
        Assert.Equal(EngineForm.Intervals, form.Read().Error?.At);
    }

    [Fact]
    public void An_engine_without_a_name_is_called_what_it_is()
    {
        var form = Form("1 2 3 4", "1-3-4-2");
        form[EngineForm.Shape] = "I";
        Assert.Equal("I4, 1-3-4-2, coil on plug, port injection", form.TitleOf(form.Read().Value));
        form[EngineForm.Title] = " The old truck ";
        Assert.Equal("The old truck", form.TitleOf(form.Read().Value));
    }

    [Theory]
    [InlineData("v6 waste", true)]
    [InlineData("1-6-5-4-3-2", true)]
    [InlineData("165432 distributor", true)]
    [InlineData("8 cylinders", true)]
    [InlineData("steam", false)]
    public void Generic_engines_are_found_by_the_words_a_person_would_use(string words, bool found) =>
        Assert.Equal(found, EngineWords.Search(Knowledge.Shipped.Profiles, words).Any());

    [Fact]
    public void The_firing_line_names_order_and_companions()
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == "i4-1342-coil-on-plug-port").Spec).Value;
        Assert.Equal("Fires 1-3-4-2; companions 1 and 4, 2 and 3", EngineWords.Firing(engine));
    }

    [Fact]
    public void A_limit_is_kept_in_its_base_unit_and_shown_in_the_shops()
    {
        var (field, spec) = (EngineField.Of(Limit(), Quantity.All["gauge-pressure"].For("us")), Spec());
        var changed = field.Put(spec, "120").Value;
        Assert.Equal(827.4, changed.Limits["compression-min-kpa"], 1);
        Assert.Equal("120", field.Show(changed));
        Assert.Empty(field.Put(changed, " ").Value.Limits);
    }

    [Fact]
    public void A_limit_outside_what_can_be_is_refused_in_the_shops_unit()
    {
        var refused = EngineField.Of(Limit(), Quantity.All["gauge-pressure"].For("us")).Put(Spec(), "9000");
        Assert.Contains("psi", refused.Error!.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-1")]
    [InlineData("2000")]
    [InlineData("long")]
    public void Access_minutes_that_cannot_be_are_refused(string text) => Assert.False(EngineField.AccessTo(1).Put(Spec(), text).IsValid);

    [Fact]
    public void How_the_valves_keep_their_play_is_picked_from_the_list_and_nothing_else()
    {
        Assert.Equal(ValveLash.Hydraulic, EngineField.Lash.Put(Spec(), "Hydraulic").Value.Lash);
        Assert.Equal("Adjusted", EngineField.Lash.Show(Spec() with { Lash = ValveLash.Adjusted }));
        Assert.False(EngineField.Lash.Put(Spec(), "7").IsValid);
        Assert.False(EngineField.Lash.Put(Spec(), "tight").IsValid);
    }

    private static EngineSpec Spec() => Knowledge.Shipped.Profiles[0].Spec;

    private static Limit Limit() => Knowledge.Shipped.Limits["compression-min-kpa"];

    private static EngineForm Form(string banks, string order) => new() { [EngineForm.Shape] = "V", [EngineForm.Banks] = banks, [EngineForm.FiringOrder] = order };
}
