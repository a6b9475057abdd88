using System.Diagnostics;

namespace ShopDiag.Reports.Tests;

/// <summary>What independent tools think of the files. They are Debian's <c>qpdf</c> and <c>poppler-utils</c>.</summary>
public sealed class ToolTests
{
    /// <summary>PDFsharp 6.2.4 writes compressed streams without their closing checksum; every reader copes, qpdf says so.</summary>
    private const string KnownWarning = "input stream is complete but output may still be valid";

    public static TheoryData<string> Papered => ["report", "parts", "large", "hostile"];

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
        "parts" => Papers.PartsList(Samples.SimpleParts, PaperSize.A4),
        "large" => Papers.CustomerReport(Samples.Large(Samples.WSixteen, "W16"), PaperSize.A4),
        "hostile" => Papers.CustomerReport(Samples.Filled("<b>&( 🚗 שלום \uD800 \\ endstream " + new string('x', 1_000)), PaperSize.Letter),
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, null),
    };

    private static async Task<(int Exit, string Output)> RunAsync(string tool, string paper, Func<string, string[]> arguments)
    {
        Require(tool);
        var cancel = TestContext.Current.CancellationToken;
        var file = Path.Combine(Path.GetTempPath(), $"shopdiag-{Guid.NewGuid():N}.pdf");
        await File.WriteAllBytesAsync(file, Paper(paper), cancel);
        try
        {
            using var process = Process.Start(new ProcessStartInfo(tool, arguments(file)) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            var error = process.StandardError.ReadToEndAsync(cancel);
            var output = await process.StandardOutput.ReadToEndAsync(cancel);
            await process.WaitForExitAsync(cancel);
            return (process.ExitCode, output + await error);
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>On the build machine a missing tool is a failure; on somebody's own it is a skipped test with its reason.</summary>
    private static void Require(string tool)
    {
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, tool)));
        if (Environment.GetEnvironmentVariable("CI") == "true")
        {
            Assert.True(found, $"{tool} is not installed; tests/run.sh installs qpdf and poppler-utils.");
        }

        Assert.SkipUnless(found, $"{tool} is not installed: apt-get install qpdf poppler-utils");
    }
}
