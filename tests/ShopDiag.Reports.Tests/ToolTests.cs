namespace ShopDiag.Reports.Tests;

/// <summary>What independent tools think of the files. They are Debian's <c>qpdf</c> and <c>poppler-utils</c>.</summary>
public sealed class ToolTests
{
    /// <summary>PDFsharp 6.2.4 writes compressed streams without their closing checksum; every reader copes, qpdf says so.</summary>
    private const string KnownWarning = "input stream is complete but output may still be valid";

    public static TheoryData<string> Papered => ["report", "full", "parts", "bench", "invoice", "figures", "large", "hostile"];

    [Theory]
    [MemberData(nameof(Papered))]
    public async Task Qpdf_finds_nothing_but_the_known_warning(string name)
    {
        var (exit, output) = await RunAsync("qpdf", name, file => ["--check", file]);
        var complaints = output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Where(line => line.Contains("WARNING", StringComparison.Ordinal) || line.Contains("rror", StringComparison.Ordinal))
            .Where(line => !line.Contains(KnownWarning, StringComparison.Ordinal));

        Assert.Empty(complaints);
        Assert.Contains("checking ", output, StringComparison.Ordinal);
        Assert.True(exit is 0 or 3, $"qpdf ended with {exit}.");
    }

    [Theory]
    [MemberData(nameof(Papered))]
    public async Task Pdffonts_finds_every_font_embedded_and_mapped_to_text(string name)
    {
        var (_, output) = await RunAsync("pdffonts", name, file => [file]);
        var fonts = output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();

        Assert.NotEmpty(fonts);
        Assert.All(fonts, font => Assert.Matches(@"IBM Plex Sans.*CID TrueType\s+Identity-H\s+yes yes yes", font));
    }

    [Theory]
    [MemberData(nameof(Papered))]
    public async Task Pdfinfo_reads_a_structure_with_headings_and_tables(string name)
    {
        var (exit, output) = await RunAsync("pdfinfo", name, file => ["-struct-text", file]);

        Assert.Equal(0, exit);
        Assert.Contains("H1", output, StringComparison.Ordinal);
        Assert.Contains("/Scope /Row", output, StringComparison.Ordinal);
        Assert.DoesNotContain("Syntax", output, StringComparison.Ordinal);
    }

    private static byte[] Paper(string name) => name switch
    {
        "report" => Papers.CustomerReport(Samples.Simple, PaperSize.Letter),
        "full" => Papers.CustomerReport(SamplesOfMoney.FullCase, PaperSize.Letter),
        "parts" => Papers.PartsList(SamplesOfMoney.PartsWithVendors, PaperSize.A4),
        "bench" => Papers.BenchSheet(SamplesOfMoney.Filled(AllPapers.VSixteen, "V16"), PaperSize.A4),
        "invoice" => Papers.Invoice(SamplesOfMoney.Invoice, PaperSize.Letter),
        "figures" => Papers.FigureReport(SamplesOfMoney.Comebacks, PaperSize.A4),
        "large" => Papers.CustomerReport(Samples.Large(Samples.WSixteen, "W16"), PaperSize.A4),
        "hostile" => Papers.CustomerReport(Hostile.Report("<b>&( 🚗 שלום \uD800 \\ endstream " + new string('x', 1_000)), PaperSize.Letter),
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, null),
    };

    private static Task<(int Exit, string Output)> RunAsync(string tool, string paper, Func<string, string[]> arguments) =>
        Tool.RunAsync(tool, Paper(paper), arguments);
}
