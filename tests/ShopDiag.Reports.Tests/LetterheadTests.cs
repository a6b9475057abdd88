using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ZXing;
using ZXing.Common;

namespace ShopDiag.Reports.Tests;

public sealed class LetterheadTests
{
    public static TheoryData<string> Codes =>
        ["RO 1042", "https://shop.example/orders/1042", "Заказ 1042 Łódź", "https://10.0.0.5:5001/" + new string('x', 170)];

    [Theory]
    [MemberData(nameof(Codes))]
    public async Task A_reader_finds_the_text_in_the_printed_code(string text)
    {
        var image = await RenderAsync(Papers.CustomerReport(SamplesOfMoney.SimpleCase with { QrText = text }, PaperSize.Letter));

        Assert.Equal(text, Decoded(image));
    }

    [Fact]
    public async Task Without_a_text_there_is_no_code()
    {
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts, PaperSize.Letter));

        Assert.DoesNotContain(pdf.Root.Tagged("Figure"), f => f.Alternative!.Contains("QR", StringComparison.Ordinal));
        Assert.Null(Decoded(await RenderAsync(Papers.PartsList(Samples.SimpleParts, PaperSize.Letter))));
    }

    [Fact]
    public void Every_paper_of_an_order_carries_its_code_with_words_for_those_who_do_not_see_it()
    {
        byte[][] papers =
        [
            Papers.CustomerReport(Samples.Simple with { QrText = "RO 1042" }, PaperSize.A4), Papers.PartsList(Samples.SimpleParts with { QrText = "RO 1042" }, PaperSize.A4),
            Papers.BenchSheet(SamplesOfMoney.Filled(Samples.VSix, "V6"), PaperSize.A4), Papers.Invoice(SamplesOfMoney.Invoice, PaperSize.A4),
        ];

        Assert.All(papers, bytes =>
        {
            using var pdf = new ReadPdf(bytes);
            Assert.Single(pdf.Root.Tagged("Figure"), f => f.Alternative == "QR code: RO 1042");
        });
    }

    [Fact]
    public void The_code_keeps_the_blank_margin_that_readers_need()
    {
        using var set = new Typesetter();
        var modules = new QrFigure("RO 1042", 60, set).Modules;

        for (var edge = 0; edge < QrFigure.QuietZone; edge++)
        {
            Assert.DoesNotContain(true, modules[edge]);
            Assert.DoesNotContain(true, modules[^(edge + 1)]);
            Assert.DoesNotContain(modules, row => row[edge] || row[^(edge + 1)]);
        }

        Assert.True(modules[QrFigure.QuietZone][QrFigure.QuietZone]);
    }

    [Fact]
    public void A_text_too_long_to_be_read_from_paper_is_a_broken_promise() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Samples.Simple with { QrText = new string('x', 201) });

    [Fact]
    public void The_logo_stands_at_the_left_with_the_shops_name_for_those_who_do_not_see_it()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(SamplesOfMoney.SimpleCase, PaperSize.Letter));

        Assert.Equal("Logo of Larkspur Engine Works", pdf.Root.Tagged("Figure").First().Alternative);
        var logo = Assert.Single(pdf.Pages[0].GetImages()).BoundingBox;
        Assert.Equal(50, logo.Left, 0.5);
        Assert.Equal(2.5, logo.Width / logo.Height, 0.01);
        Assert.Contains("Larkspur Engine Works", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_logo_that_is_no_picture_is_left_out_and_the_name_stays()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Shop = Samples.Shop with { Logo = "no picture"u8.ToArray() } }, PaperSize.Letter));

        Assert.Empty(pdf.Pages[0].GetImages());
        Assert.Contains("Larkspur Engine Works", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_can_be_printed_is_known_beforehand()
    {
        Assert.True(Papers.CanPrint(SamplesOfMoney.Picture("logo.png")));
        Assert.True(Papers.CanPrint(SamplesOfMoney.Picture("plug.jpg")));
        Assert.False(Papers.CanPrint(default));
        Assert.False(Papers.CanPrint("GIF89a"u8.ToArray()));
        Assert.False(Papers.CanPrint(SamplesOfMoney.Picture("plug.jpg")[..100]));
        Assert.False(Papers.CanPrint(SamplesOfMoney.Picture("logo.png")[..60]));
    }

    private static async Task<LuminanceSource> RenderAsync(byte[] paper)
    {
        var file = Path.Combine(Path.GetTempPath(), $"shopdiag-{Guid.NewGuid():N}");
        try
        {
            var (exit, output) = await Tool.RunAsync("pdftoppm", paper, pdf => ["-r", "300", "-gray", "-f", "1", "-singlefile", pdf, file]);
            Assert.True(exit == 0, output);
            return Grey(await File.ReadAllBytesAsync(file + ".pgm", TestContext.Current.CancellationToken));
        }
        finally
        {
            File.Delete(file + ".pgm");
        }
    }

    /// <summary>A picture in the PGM format: <c>P5</c>, width, height and 255 as text, then a byte a pixel.</summary>
    private static RGBLuminanceSource Grey(byte[] file)
    {
        var header = new List<string>();
        var at = 0;
        while (header.Count < 4)
        {
            var end = Array.FindIndex(file, at, b => b is (byte)' ' or (byte)'\n');
            header.Add(System.Text.Encoding.ASCII.GetString(file, at, end - at));
            at = end + 1;
        }

        Assert.Equal(["P5", "255"], [header[0], header[3]]);
        return new RGBLuminanceSource(file[at..], int.Parse(header[1], null), int.Parse(header[2], null), RGBLuminanceSource.BitmapFormat.Gray8);
    }

    private static string? Decoded(LuminanceSource image) => new BarcodeReaderGeneric
    {
        Options = new DecodingOptions { PossibleFormats = [BarcodeFormat.QR_CODE], TryHarder = true },
    }.Decode(image)?.Text;
}
