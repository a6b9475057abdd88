using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Shop;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Shop;

public sealed class ShopFieldTests : IAsyncLifetime
{
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync() => _shop = await TestShop.OpenAsync();

    public ValueTask DisposeAsync() => _shop.DisposeAsync();

    [Theory]
    [InlineData("1,200", 1200)]
    [InlineData("1 200", 1200)]
    [InlineData("1,2", 1.2)]
    [InlineData("0,125", 0.125)]
    [InlineData("1,200.5", 1200.5)]
    [InlineData("-3", -3)]
    [InlineData("−3", -3)]
    [InlineData(" 7. ", 7)]
    public void A_number_is_read_as_either_side_of_the_ocean_writes_it(string text, double number) => Assert.Equal(number, NumberText.Read(text).Value);

    [Theory]
    [InlineData("")]
    [InlineData("1.2.3")]
    [InlineData("1e5")]
    [InlineData("NaN")]
    [InlineData("12 psi")]
    public void Anything_else_is_no_number(string text) => Assert.False(NumberText.Read(text).IsValid);

    [Fact]
    public async Task A_setting_is_saved_alone()
    {
        await SaveAsync(ShopField.Phone, "555-0100", "");
        await SaveAsync(ShopField.Altitude, "5,280", "0");
        var settings = (await _shop.Shops.GetAsync())!;
        Assert.Equal(("Test Garage", "555-0100"), (settings.Name, settings.Phone));
        Assert.Equal(1609.3, settings.AltitudeMetres, 1);
        Assert.Equal("5280", ShopField.Altitude.Show(settings));
    }

    [Fact]
    public async Task The_window_of_comebacks_is_set_in_days_and_in_the_unit_of_the_shop()
    {
        await SaveAsync(ShopField.ComebackDays, "180", "365");
        await SaveAsync(ShopField.ComebackDistance, "12,000", "12427");
        var settings = (await _shop.Shops.GetAsync())!;
        Assert.Equal((180, 19312, "12000"), (settings.ComebackDays, settings.ComebackKilometres!.Value, ShopField.ComebackDistance.Show(settings)));
        var metric = settings with { UnitSystem = "metric" };
        Assert.Equal(("km", "19312"), (ShopField.DistanceUnit(metric).Symbol, ShopField.ComebackDistance.Show(metric)));
        Assert.Equal("mi", ShopField.DistanceUnit(metric with { Units = metric.Units.Add("distance", "mi") }).Symbol);
        await SaveAsync(ShopField.ComebackDistance, "", "12000");
        Assert.Null((await _shop.Shops.GetAsync())!.ComebackKilometres);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("3651")]
    [InlineData("1.5")]
    [InlineData("")]
    [InlineData("-3")]
    public void Days_that_cannot_be_are_refused(string days) => Assert.False(ShopField.ComebackDays.Put(new(), days).IsValid);

    [Theory]
    [InlineData("0")]
    [InlineData("0.5")]
    [InlineData("700000")]
    [InlineData("99999999999")]
    [InlineData("far")]
    public void Distances_that_cannot_be_are_refused(string miles) => Assert.False(ShopField.ComebackDistance.Put(new(), miles).IsValid);

    [Fact]
    public async Task Taxes_supplies_and_terms_are_saved_as_the_estimates_reckon_with_them()
    {
        await SaveAsync(ShopField.TaxName, "VAT", "Tax");
        await SaveAsync(ShopField.PartsTax, "8.25 %", "");
        await SaveAsync(ShopField.LabourTax, "20", "");
        await SaveAsync(ShopField.FeesTax, "0.5", "");
        await SaveAsync(ShopField.Supplies, "4", "");
        await SaveAsync(ShopField.SuppliesMost, "35", "");
        var settings = (await _shop.Shops.GetAsync())!;
        Assert.Equal(new ShopPricing { TaxName = "VAT", PartsTaxBasisPoints = 825, LabourTaxBasisPoints = 2000, FeesTaxBasisPoints = 50, SuppliesBasisPoints = 400, SuppliesMostMinor = 3500 }, settings.Pricing);
        Assert.Equal(("8.25", "35.00"), (ShopField.PartsTax.Show(settings), ShopField.SuppliesMost.Show(settings)));
    }

    [Fact]
    public async Task The_template_of_the_terms_stands_there_until_the_shop_has_its_own_and_comes_back_when_emptied()
    {
        Assert.Equal(ShopPricing.DefaultTerms, ShopField.Terms.Show((await _shop.Shops.GetAsync())!));
        await SaveAsync(ShopField.Terms, "Our own terms.", ShopPricing.DefaultTerms);
        Assert.Equal("Our own terms.", (await _shop.Shops.GetAsync())!.Pricing.Terms);
        await SaveAsync(ShopField.Terms, " ", "Our own terms.");
        var settings = (await _shop.Shops.GetAsync())!;
        Assert.Equal(("", ShopPricing.DefaultTerms), (settings.Pricing.Terms, ShopField.Terms.Show(settings)));
    }

    [Theory]
    [InlineData("101")]
    [InlineData("-1")]
    [InlineData("8.255")]
    [InlineData("much")]
    public async Task What_is_no_percentage_is_refused(string text) =>
        Assert.Equal(SaveOutcome.Refused, (await ShopField.PartsTax.SaveAsync(_shop.Shops, new(text, null, Guid.NewGuid()))).Outcome);

    [Fact]
    public async Task The_rule_for_the_height_is_chosen_and_reaches_the_reasoning()
    {
        await SaveAsync(ShopField.AltitudeRule, "density", "pressure");

        var settings = (await _shop.Shops.GetAsync())!;
        Assert.Equal("density", ShopField.AltitudeRule.Show(settings));
        Assert.Equal(Diagnosis.Workups.AltitudeRule.DensityRatio, settings.ToSetup().AltitudeRule);
    }

    [Fact]
    public async Task What_somebody_else_wrote_meanwhile_is_a_conflict()
    {
        await SaveAsync(ShopField.Phone, "555-0111", "");
        var result = await ShopField.Phone.SaveAsync(_shop.Shops, new FieldEntry("555-0122", "", Guid.NewGuid()));
        Assert.Equal((SaveOutcome.Conflict, "555-0111"), (result.Outcome, result.Current));
    }

    [Fact]
    public async Task What_the_store_cannot_keep_is_refused_in_words()
    {
        var result = await ShopField.Currency.SaveAsync(_shop.Shops, new FieldEntry("dollars", "USD", Guid.NewGuid()));
        Assert.Equal((SaveOutcome.Refused, "The currency is three capital letters, such as USD."), (result.Outcome, result.Message));
    }

    [Fact]
    public void All_tools_are_kept_as_all_so_that_a_tool_added_later_is_owned_too()
    {
        var field = ShopField.Tools(["gauge", "tester"]);
        Assert.Equal(["*"], field.Put(new ShopSettings(), "tester, gauge").Value.Tools);
        Assert.Equal(["gauge"], field.Put(new ShopSettings(), "gauge").Value.Tools);
        Assert.Empty(field.Put(new ShopSettings(), "").Value.Tools);
        Assert.Equal("gauge, tester", field.Show(new ShopSettings()));
    }

    private async Task SaveAsync(ShopField field, string text, string before) =>
        Assert.Equal(SaveOutcome.Saved, (await field.SaveAsync(_shop.Shops, new FieldEntry(text, before, Guid.NewGuid()))).Outcome);
}
