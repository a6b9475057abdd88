using System.Text.Json.Nodes;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;

namespace ShopDiag.Web.Tests.Verbs;

public sealed class ListenVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-listen").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Sound_of_a_balance_run_gives_the_speed_and_a_drop_for_each_cylinder_in_the_announced_order()
    {
        var trial = new Trial(4, 750, Scene.Shop, 10, 61);
        var run = trial.Run();
        var file = Path.Combine(_folder, "run.wav");
        await File.WriteAllBytesAsync(file, WavFile.Of(trial.Sound(run), trial.Rate));

        var (code, output, errors) = await Shell.RunAsync("", "listen", file, "--cylinders", "4", "--idle", "780", "--order", "1,3,4,2");

        Assert.Equal((0, ""), (code, errors));
        var answer = JsonNode.Parse(output)!.AsObject();
        Assert.Equal(["trace", "drops", "usable", "reasons"], answer.Select(p => p.Key));
        var drops = answer["drops"]!.AsArray();
        Assert.True((bool)answer["usable"]!, answer["reasons"]!.ToJsonString());
        Assert.Empty(answer["reasons"]!.AsArray());
        Assert.Equal([1, 3, 4, 2], drops.Select(d => (int)d!["cylinder"]!));
        Assert.All(drops, d => Assert.Equal(["start", "end", "baseRpm", "cancelledRpm", "drop", "standardError", "cylinder"], d!.AsObject().Select(p => p.Key)));
        Assert.All(trial.Plan.Held.Zip(drops), pair =>
        {
            Assert.Equal(pair.First.From, (double)pair.Second!["start"]!, 0.5);
            Assert.Equal(Outcome.TrueDrop(run, pair.First), (double)pair.Second["drop"]!, 5.0);
            Assert.Equal((decimal)pair.Second["baseRpm"]! - (decimal)pair.Second["cancelledRpm"]!, (decimal)pair.Second["drop"]!);
        });
        var points = answer["trace"]!.AsArray();
        Assert.All(points.Where(p => (double)p!["t"]! is > 1 and < 4), p => Assert.Equal(run.Rpm((double)p!["t"]!), (double)p["rpm"]!, 10.0));
    }

    [Fact]
    public async Task A_log_with_one_drop_too_few_gives_no_cylinders_and_says_why()
    {
        var plan = EnginePlan.Balance(4, 750, 11);
        var file = Path.Combine(_folder, "run.csv");
        await File.WriteAllTextAsync(file, VirtualLog.Text(CrankSimulation.Run(plan, 11), 10, 1, noise: 0, seed: 1, separator: ";", decimalComma: true, header: "Zeit (s),Drehzahl"));

        var (code, output, _) = await Shell.RunAsync("", "listen", file, "--cylinders", "4", "--order", "1,3,4,2,1");

        var answer = JsonNode.Parse(output)!;
        Assert.Equal(0, code);
        Assert.False((bool)answer["usable"]!);
        Assert.Equal(4, answer["drops"]!.AsArray().Count);
        Assert.All(answer["drops"]!.AsArray(), d => Assert.Null(d!["cylinder"]));
        Assert.Contains("5 cancellations were announced and 4 found", answer["reasons"]!.ToJsonString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unclear_unit_is_asked_and_can_be_answered()
    {
        var file = Path.Combine(_folder, "unclear.csv");
        await File.WriteAllTextAsync(file, "time,rpm\n" + string.Concat(Enumerable.Range(0, 40).Select(i => $"{5 * i},{750 + (i % 3)}\n")));

        var (code, output, errors) = await Shell.RunAsync("", "listen", file, "--cylinders", "4");
        var (answered, _, _) = await Shell.RunAsync("", "listen", file, "--cylinders", "4", "--time", "s");

        Assert.Equal(1, code);
        Assert.Equal("time", (string)JsonNode.Parse(output)!["error"]!["at"]!);
        Assert.Contains("choose ms or s", errors, StringComparison.Ordinal);
        Assert.Equal(0, answered);
    }

    [Fact]
    public async Task A_file_that_is_no_recording_or_is_not_there_is_an_error_in_words()
    {
        var file = Path.Combine(_folder, "song.mp3");
        await File.WriteAllBytesAsync(file, [.. "ID3"u8, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);

        var compressed = await Shell.RunAsync("", "listen", file, "--cylinders", "4");
        var missing = await Shell.RunAsync("", "listen", Path.Combine(_folder, "none.wav"), "--cylinders", "4");

        Assert.Equal(1, compressed.Code);
        Assert.Contains("MP3", compressed.Errors, StringComparison.Ordinal);
        Assert.Equal(1, missing.Code);
        Assert.Contains("none.wav", missing.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", missing.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("listen x.wav")]
    [InlineData("listen x.wav --cylinders two")]
    [InlineData("listen x.wav --cylinders 2")]
    [InlineData("listen x.wav --cylinders 4 --idle 90")]
    [InlineData("listen x.wav --cylinders 4 --order 1,3,5")]
    [InlineData("listen x.wav --cylinders 4 --order 1;3")]
    [InlineData("listen x.wav --cylinders 4 --time h")]
    public async Task Wrong_usage_ends_with_code_2_and_words(string arguments)
    {
        var (code, _, errors) = await Shell.RunAsync("", arguments.Split(' '));

        Assert.Equal(2, code);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }
}
