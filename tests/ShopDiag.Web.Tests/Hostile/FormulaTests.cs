using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Hostile;

/// <summary>A name that a spreadsheet would run as a formula (OWASP, CSV injection) is text in every file that we write.</summary>
public sealed class FormulaTests(RunningShop shop) : IClassFixture<RunningShop>
{
    [Theory]
    [InlineData("=1+1")]
    [InlineData("+cmd|' /C calc'!A0")]
    [InlineData("-2+3")]
    [InlineData("@SUM(1)")]
    [InlineData("\t=1+1")]
    [InlineData(" =HYPERLINK(\"http://elsewhere.example\")")]
    public async Task No_cell_of_the_price_list_begins_a_formula(string text)
    {
        await shop.Services.GetRequiredService<PriceStore>().PutAsync([new PriceEntry { Kind = LineKind.Part, Name = $"{text} x", For = text, Vendor = text, Maker = text, PartNumber = text, PriceMinor = 100 }]);
        var file = await shop.Client.GetStringAsync(new Uri("/shop/prices.csv", UriKind.Relative));
        var cells = file.TrimStart('\uFEFF').Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Skip(1).SelectMany(l => l.Split(','));
        Assert.NotEmpty(cells);
        Assert.DoesNotContain(cells.Select(c => c.Trim('"').TrimStart()), c => c is ['=' or '+' or '@', ..] || (c is ['-', ..] && !decimal.TryParse(c, out _)));
    }
}
