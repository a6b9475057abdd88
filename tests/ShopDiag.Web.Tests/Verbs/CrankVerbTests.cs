using System.Text.Json.Nodes;
using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Web.Tests.Verbs;

public sealed class CrankVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-crank").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_cranking_with_a_sync_gives_a_value_for_each_cylinder_and_a_summary()
    {
        var engine = CrankedEngine.Drawn(4, "one weak", 12) with { SampleRate = 10_000 };
        var run = CrankingRun.Of(engine);
        var file = await FileAsync(WaveformText.Of(run.Recorded(30, 1)));

        var (code, output, errors) = await Shell.RunAsync("", "crank", file, "--cylinders", "4", "--order", "1,3,4,2", "--channel", "1", "--kind", "cranking-current", "--sync-channel", "3");

        Assert.Equal((0, ""), (code, errors));
        var lines = output.Trim().Split('\n').Select(l => JsonNode.Parse(l)!.AsObject()).ToArray();
        Assert.Equal(5, lines.Length);
        int[] order = [1, 3, 4, 2];
        Assert.All(lines[..4], l => Assert.Equal(100 * run.TrueShare[Array.IndexOf(order, (int)l["cylinder"]!)], (double)l["relativePercent"]!, 8.0));
        Assert.Equal("cranking-current", (string)lines[4]["kind"]!);
        Assert.NotEmpty(lines[4]["findings"]!.AsArray());
    }

    [Fact]
    public async Task A_coil_is_recognised_and_comes_to_one_line()
    {
        var rows = Enumerable.Range(0, 20_000).Select(i => (T: i * 5e-6, Into: (i * 5e-6) % 0.012)).Select(s => FormattableString.Invariant(
            $"{s.T:0.000000},{(s.Into is > 0.004 and < 0.007 ? 28 * (1 - Math.Exp(-(s.Into - 0.004) / 0.007)) : 0) + (0.02 * Math.Sin(s.T * 1e6)):0.0000}\n"));
        var file = await FileAsync("Time,Clamp\n(s),(A)\n" + string.Concat(rows));

        var (code, output, _) = await Shell.RunAsync("", "crank", file, "--volts", "14.4");

        var line = JsonNode.Parse(output.Trim())!;
        Assert.Equal((0, "coil-current"), (code, (string)line["kind"]!));
        Assert.Equal(3.0, (double)line["coil"]!["dwellMs"]!["median"]!, 0.05);
        Assert.Equal(9.76, (double)line["coil"]!["peakAmps"]!["median"]!, 0.2);
        Assert.Equal(3.5, (double)line["coil"]!["milliHenry"]!["median"]!, 0.15);
        Assert.Contains("ignition coil", (string)line["because"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_missing_is_asked_in_words()
    {
        var file = await FileAsync("a,b\n" + string.Concat(Enumerable.Range(0, 100).Select(i => FormattableString.Invariant($"{Math.Sin(i):0.00},{Math.Cos(i):0.00}\n"))));

        var (code, output, errors) = await Shell.RunAsync("", "crank", file, "--cylinders", "4");

        Assert.Equal((1, "rate"), (code, (string)JsonNode.Parse(output)!["error"]!["at"]!));
        Assert.Contains("state the samples a second", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("crank")]
    [InlineData("crank x.csv --cylinders 20")]
    [InlineData("crank x.csv --order 1,3,4")]
    [InlineData("crank x.csv --order 1,3,x,2")]
    [InlineData("crank x.csv --cylinders 6 --order 1,3,4,2")]
    [InlineData("crank x.csv --kind sound")]
    [InlineData("crank x.csv --volts -3")]
    public async Task Wrong_usage_ends_with_code_2_and_words(string arguments)
    {
        var (code, _, errors) = await Shell.RunAsync("", arguments.Split(' '));

        Assert.Equal(2, code);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    private async Task<string> FileAsync(string text)
    {
        var file = Path.Combine(_folder, "scope.csv");
        await File.WriteAllTextAsync(file, text);
        return file;
    }
}
