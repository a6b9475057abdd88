using System.Text.Json.Nodes;

namespace ShopDiag.Web.Tests.Verbs;

public sealed class DecodeVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-decode").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_log_gives_a_record_a_line_and_a_summary_at_the_end()
    {
        var (code, output, errors) = await DecodeAsync(
            "(0.000000) can0 7DF#02010C0000000000",
            "(0.010000) can0 7E8#04410C0BB8000000",
            "(0.020000) can0 7E8#100E430601430196",
            "(0.021000) can0 7E9#024300",
            "(0.022000) can0 7E0#300000",
            "(0.030000) can0 7E8#21023402CD03570A",
            "(0.040000) can0 7E8#2224000000000000");

        Assert.Equal((0, ""), (code, errors));
        var lines = Lines(output);
        Assert.Equal(["request", "values", "codes", "codes", "summary"], lines.Select(l => (string)l["kind"]!));
        Assert.Equal(750, (int)lines[1]["values"]![0]!["value"]!);
        Assert.Equal(["P0143", "P0196", "P0234", "P02CD", "P0357", "P0A24"], lines[3]["codes"]!.AsArray().Select(c => (string)c!["code"]!));
        Assert.All(lines[3]["codes"]!.AsArray(), c => Assert.NotEmpty((string)c!["says"]!));
        Assert.Equal(["7E8", "7E9"], lines[^1]["units"]!.AsArray().Select(u => (string)u!["id"]!));
        Assert.Equal(0.01, (double)lines[^1]["speed"]![0]!["t"]!);
    }

    [Fact]
    public async Task What_cannot_be_read_is_said_with_its_line_and_the_rest_goes_on()
    {
        var (code, output, errors) = await DecodeAsync("7E8 10 14 49 02 01 31 47 31", "7E8 22 4A 43 35 34 34 34 52", "nonsense", "7E8 04 41 0C 0B B8");

        Assert.Equal(1, code);
        Assert.Equal(["values", "problem", "problem", "summary"], Lines(output).Select(l => (string)l["kind"]!));
        Assert.Contains("line 2: 7E8: the message from line 1 was broken off", errors, StringComparison.Ordinal);
        Assert.Contains("line 3: neither a frame nor hexadecimal bytes", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_without_obd_or_that_is_not_there_is_an_error_in_words()
    {
        var (code, output, errors) = await DecodeAsync("can0 123#0011");
        var missing = await Shell.RunAsync("", "decode", Path.Combine(_folder, "none.log"));

        Assert.Equal(1, code);
        Assert.Contains("none of them of OBD", (string)JsonNode.Parse(output)!["error"]!["message"]!, StringComparison.Ordinal);
        Assert.Contains("none of them of OBD", errors, StringComparison.Ordinal);
        Assert.Equal(1, missing.Code);
        Assert.Contains("none.log", missing.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", missing.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nocan9")]
    [InlineData("../lo")]
    [InlineData("lo")]
    public async Task An_interface_that_is_none_of_can_is_an_error_in_words(string name)
    {
        var (code, output, errors) = await Shell.RunAsync("", "decode", "--interface", name);

        Assert.Equal((1, ""), (code, output));
        Assert.Contains($"'{name}'", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("decode")]
    [InlineData("decode a.log b.log")]
    [InlineData("decode a.log --cylinders 4")]
    [InlineData("decode a.log --interface can0")]
    [InlineData("decode --interface can0 --seconds -1")]
    [InlineData("decode --interface can0 --seconds soon")]
    public async Task Wrong_usage_ends_with_code_2_and_words(string arguments)
    {
        var (code, _, errors) = await Shell.RunAsync("", arguments.Split(' '));

        Assert.Equal(2, code);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    private async Task<(int Code, string Output, string Errors)> DecodeAsync(params string[] lines)
    {
        var file = Path.Combine(_folder, "obd.log");
        await File.WriteAllLinesAsync(file, lines);
        return await Shell.RunAsync("", "decode", file);
    }

    private static JsonNode[] Lines(string output) => [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonNode.Parse(l)!)];
}
