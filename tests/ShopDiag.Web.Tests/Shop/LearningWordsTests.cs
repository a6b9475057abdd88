using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Tests.Shop;

public sealed class LearningWordsTests
{
    [Theory]
    [InlineData(0.2, 0.2, "as shipped")]
    [InlineData(0.2, 0.205, "as shipped")]
    [InlineData(0.2, 0.24, "a little more common")]
    [InlineData(0.2, 0.17, "a little less common")]
    [InlineData(0.2, 0.3, "clearly more common")]
    [InlineData(0.2, 0.12, "clearly less common")]
    [InlineData(0.1, 0.24, "2.4 times as common")]
    [InlineData(0.24, 0.1, "2.4 times as rare")]
    public void A_change_is_said_in_words(double shipped, double learned, string words) => Assert.Equal(words, LearningWords.Change(new LearnedCause("coil-failed", shipped, learned, 0)));

    [Theory]
    [InlineData(0.137, "14 %")]
    [InlineData(0.0321, "3.2 %")]
    [InlineData(0.05, "5.0 %")]
    [InlineData(0.0999, "10 %")]
    [InlineData(0.0004, "under 0.1 %")]
    public void A_share_is_said_with_two_figures_at_most(double share, string words) => Assert.Equal(words, LearningWords.Share(share));

    [Fact]
    public void A_family_is_named_by_layout_ignition_and_injection()
    {
        Assert.Equal("V6, coil on plug, direct injection", LearningWords.Of(new EngineFamily("V6", Ignition.CoilOnPlug, Injection.Direct)));
        Assert.Equal("layout not said, distributor, port injection", LearningWords.Of(new EngineFamily("", Ignition.Distributor, Injection.Port)));
        Assert.Equal("all engines", LearningWords.Of(null));
    }
}
