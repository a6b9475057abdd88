using System.Text.Json.Nodes;

namespace ShopDiag.Web.Tests.Verbs;

public sealed class DiagnoseVerbTests
{
    private const string Engine = """{"layout":"V6","banks":[[1,3,5],[2,4,6]],"firingOrder":[1,2,3,4,5,6],"ignition":"coil-on-plug","injection":"port","accessMinutes":{"2":40}}""";

    [Fact]
    public async Task Each_line_is_answered_in_order_and_a_wrong_one_does_not_stop_the_others()
    {
        var (code, output, errors) = await Shell.RunAsync(
            $$$"""
            {"id":"a","engine":{{{Engine}}},"concern":{"codes":["P0304"]}}
            {"id":"b","engine":{{{Engine}}},"readings":[{"test":"compression-dry","cylinder":4,"value":{"kPa":-5}}]}
            not json

            {"id":"c","engine":{{{Engine}}}}

            """,
            "diagnose");

        var answers = output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonNode.Parse(l)!).ToArray();
        Assert.Equal(1, code);
        Assert.Equal(4, answers.Length);
        Assert.Equal("misfiring", (string)answers[0]["cylinders"]![3]!["state"]!);
        Assert.Equal("readings[0].value.kPa", (string)answers[1]["error"]!["at"]!);
        Assert.Null(answers[2]["id"]);
        Assert.NotNull(answers[2]["error"]);
        Assert.Equal("c", (string)answers[3]["id"]!);
        Assert.Contains("line 2", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_program_can_hold_a_dialogue_to_the_proof_line_by_line()
    {
        // The other side knows that the coil of cylinder 4 is dead and answers whatever it is asked.
        using var process = Shell.Start("diagnose");
        var readings = new JsonArray();
        JsonNode? conclusion = null;
        for (var step = 0; step < 15 && conclusion is null; step++)
        {
            var line = new JsonObject { ["id"] = $"step-{step}", ["engine"] = JsonNode.Parse(Engine), ["readings"] = readings.DeepClone() };
            await process.StandardInput.WriteLineAsync(line.ToJsonString());
            await process.StandardInput.FlushAsync();
            var answer = JsonNode.Parse((await process.StandardOutput.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(60)))!)!;
            Assert.Null(answer["error"]);
            conclusion = answer["conclusion"];
            if (conclusion is null)
            {
                Answer(readings, answer["next"]!.AsArray().First(n => n!["test"] is not null)!);
            }
        }

        process.StandardInput.Close();
        Assert.Equal("coil-failed", (string)conclusion!["causes"]![0]!["cause"]!);
        Assert.Equal(4, (int)conclusion["causes"]![0]!["at"]!["cylinder"]!);
    }

    [Theory]
    [InlineData("no-such-verb")]
    [InlineData("diagnose --no-such-option")]
    [InlineData("report nonsense 1001 x.pdf")]
    public async Task Wrong_usage_ends_with_code_2_and_words(string arguments)
    {
        var (code, _, errors) = await Shell.RunAsync("", arguments.Split(' '));

        Assert.Equal(2, code);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_report_from_a_folder_without_records_says_so()
    {
        var folder = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());

        var (code, _, errors) = await Shell.RunAsync("", "report", "customer", "1001", "x.pdf", "--data", folder);

        Assert.Equal(1, code);
        Assert.Contains(folder, errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder));
    }

    private static void Answer(JsonArray readings, JsonNode step)
    {
        var test = (string)step["test"]!;
        var cylinders = (int?)step["at"]!["cylinder"] is { } one ? [one] : Enumerable.Range(1, 6);
        if (test == "trouble-codes")
        {
            readings.Add(JsonNode.Parse("""{"test":"trouble-codes","value":{"codes":["P0304"]}}"""));
            return;
        }

        if ((int?)step["at"]!["bank"] is { } bank)
        {
            readings.Add(new JsonObject
            {
                ["test"] = test,
                ["bank"] = bank,
                ["value"] = JsonNode.Parse("""{"idle":{"shortPercent":4,"longPercent":3},"2500rpm":{"shortPercent":2,"longPercent":2}}"""),
            });
            return;
        }

        foreach (var cylinder in cylinders)
        {
            readings.Add(new JsonObject { ["test"] = test, ["cylinder"] = cylinder, ["value"] = JsonNode.Parse(Value(test, cylinder == 4)) });
        }
    }

    private static string Value(string test, bool dead) => test switch
    {
        "misfire-counts" => dead ? """{"misfires":480,"revolutions":1000}""" : """{"misfires":1,"revolutions":1000}""",
        "power-balance" => dead ? """{"baseRpm":[702,700],"cancelledRpm":[700,698]}""" : """{"baseRpm":[702,700],"cancelledRpm":[641,638]}""",
        "spark-output" => dead ? """{"jumps":"none"}""" : """{"jumps":"steady"}""",
        "coil-swap" => """{"swappedWith":1,"misfireMovedTo":1}""",
        "coil-feed" => """{"volts":12.4}""",
        "coil-control" => """{"signal":"present"}""",
        "plug-condition" => dead ? """{"look":"fuel-wet","gapMm":1.0}""" : """{"look":"normal","gapMm":1.0}""",
        "injector-sound" => """{"sound":"ticking"}""",
        "injector-resistance" => """{"ohm":12.4,"celsius":25}""",
        "injector-control" => """{"signal":"pulsing"}""",
        "intake-leak" => """{"found":"no"}""",
        "compression-dry" => """{"kPa":1200}""",
        "coil-resistance" => """{"primaryOhm":0.7,"secondaryOhm":9500,"celsius":25}""",
        "runner-temperature" => dead ? """{"celsius":90}""" : """{"celsius":250}""",
        "cranking-current" => """{"relativePercent":98}""",
        "plug-swap" => """{"swappedWith":1,"misfireMovedTo":4}""",
        "leak-down" => """{"percent":7,"hear":"none"}""",
        _ => throw new InvalidOperationException($"Asked for {test}."),
    };
}
