using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Reports;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.ShopViews;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Shop;
using ShopDiag.Web.Tests.Photos;
using ShopDiag.Web.Tests.Support;
using SkiaSharp;
using UglyToad.PdfPig;

namespace ShopDiag.Web.Tests.Shop;

/// <summary>The logo: drawn anew, in the settings, on paper.</summary>
public sealed class LogoTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public void A_large_picture_is_made_as_small_as_paper_needs_it_and_a_small_one_stays_as_it_is()
    {
        using var large = SKBitmap.Decode(LogoPicture.Read(Pictures.Quarters(2000, 500)).Value);
        Assert.Equal((660, 165), (large.Width, large.Height));
        using var small = SKBitmap.Decode(LogoPicture.Read(Pictures.Quarters(80, 40, SKEncodedImageFormat.Png)).Value);
        Assert.Equal((80, 40, Pictures.TopLeft, Pictures.BottomRight), (small.Width, small.Height, small.GetPixel(5, 5), small.GetPixel(75, 35)));
    }

    [Fact]
    public void It_is_chosen_shown_taken_away_and_brought_back()
    {
        var field = Render<LogoField>(p => p.Add(f => f.ShopName, "Test Garage"));
        Assert.Empty(field.FindAll("img"));
        field.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(Pictures.Quarters(400, 100), "logo.jpg"));
        field.WaitForAssertion(() => Assert.Equal("Logo of Test Garage", field.Find("img").GetAttribute("alt")));
        field.FindAll("button").Single(b => b.TextContent == "Print no logo").Click();
        field.WaitForAssertion(() => Assert.Empty(field.FindAll("img")));
        field.FindAll("button").Single(b => b.TextContent == "Undo").Click();
        field.WaitForAssertion(() => Assert.NotEmpty(field.FindAll("img")));
    }

    [Fact]
    public async Task What_is_no_picture_is_refused_beside_the_field_and_the_logo_stays()
    {
        await _shop.Logo.KeepAsync(LogoPicture.Read(Pictures.Quarters(80, 40)).Value);
        var field = Render<LogoField>(p => p.Add(f => f.ShopName, ""));
        field.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("GIF89a and then nothing", "logo.png"));
        field.WaitForAssertion(() => Assert.Contains("no JPEG, PNG or WebP", field.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal("Logo of the shop", field.Find("img").GetAttribute("alt"));
        field.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(new byte[LogoPicture.LargestBytes + 1], "large.png"));
        field.WaitForAssertion(() => Assert.Contains("larger than 5 MB", field.Find("[role=alert]").TextContent, StringComparison.Ordinal));
    }

    [Fact]
    public async Task It_stands_on_the_papers()
    {
        var order = await _shop.NewOrderAsync();
        var maker = new PaperMaker(Knowledge.Shipped, _shop.Time, _shop.Logo);
        byte[] Paper() => maker.CustomerReport(order, new ShopSettings { Name = "Test Garage" }, [], PaperSize.A4);
        using var without = PdfDocument.Open(Paper());
        Assert.Empty(without.GetPage(1).GetImages());
        await _shop.Logo.KeepAsync(LogoPicture.Read(Pictures.Quarters(400, 100)).Value);
        using var with = PdfDocument.Open(Paper());
        var picture = Assert.Single(with.GetPage(1).GetImages());
        Assert.Equal((400, 100), (picture.WidthInSamples, picture.HeightInSamples));
    }
}
