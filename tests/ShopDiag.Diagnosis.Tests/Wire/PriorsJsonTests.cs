using ShopDiag.Diagnosis.Tests.Workups;
using ShopDiag.Diagnosis.Wire;

namespace ShopDiag.Diagnosis.Tests.Wire;

public sealed class PriorsJsonTests
{
    [Fact]
    public void Prior_weights_of_the_shop_are_read_by_cause()
    {
        var weights = Read("""{"coil-failed":0.31,"plug-worn":0.002}""").Value.Shop.PriorWeights!;

        Assert.Equal((2, 0.31, 0.002), (weights.Count, weights["coil-failed"], weights["plug-worn"]));
    }

    [Theory]
    [InlineData("""{"tools":["*"]}""")]
    [InlineData("""{"priors":null}""")]
    public void Without_them_all_is_as_shipped(string shop) => Assert.Null(WorkupJson.Read(Line(shop), Knowledge.Shipped).Workup.Value.Shop.PriorWeights);

    [Theory]
    [InlineData("""{"coil-failed":0.3,"coil-tired":0.1}""", "shop.priors.coil-tired", "is not the id of a cause")]
    [InlineData("""{"coil-failed":0}""", "shop.priors.coil-failed", "must be a number above 0")]
    [InlineData("""{"coil-failed":-0.1}""", "shop.priors.coil-failed", "must be a number above 0")]
    [InlineData("""{"coil-failed":"often"}""", "shop.priors.coil-failed", "must be a number above 0")]
    [InlineData("""{"coil-failed":1e300}""", "shop.priors.coil-failed", "at most 1000000000")]
    [InlineData("""["coil-failed"]""", "shop.priors", "must be an object in braces")]
    public void What_cannot_be_a_weight_is_refused_and_said_where(string priors, string at, string message)
    {
        var error = Read(priors).Error!;

        Assert.Equal(at, error.At);
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    private static Parsed<ShopDiag.Diagnosis.Workups.Workup> Read(string priors) => WorkupJson.Read(Line($$"""{"priors":{{priors}}}"""), Knowledge.Shipped).Workup;

    private static string Line(string shop) => $$"""{"id":"1","engine":{{Lines.I4}},"shop":{{shop}}}""";
}
