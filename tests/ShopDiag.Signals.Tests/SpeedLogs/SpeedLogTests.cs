using System.Globalization;
using System.Text;
using CsCheck;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;

namespace ShopDiag.Signals.Tests.SpeedLogs;

public sealed class SpeedLogTests
{
    private static readonly Lazy<(EnginePlan Plan, CrankRun Run)> Four = new(() =>
    {
        var plan = EnginePlan.Balance(4, 750, 11);
        return (plan, CrankSimulation.Run(plan, 11));
    });

    /// <summary>How recorders write: what stands over the lines, and a line of a time in seconds and a speed.</summary>
    private static readonly Dictionary<string, (string Header, Func<double, double, string> Line)> Dialects = new()
    {
        ["comma, point"] = ("time (s),rpm\n", (t, n) => $"{t:0.0},{n}\n"),
        ["semicolon, decimal comma"] = ("Zeit [s];Drehzahl [1/min]\n", (t, n) => $"{t:0.0};{n}\n".Replace('.', ',')),
        ["tab, decimal comma"] = ("t [s]\tMotordrehzahl\n", (t, n) => $"{t:0.0}\t{n:0.0}\n".Replace('.', ',')),
        ["milliseconds by header"] = ("Time (ms),Engine Speed (rpm)\n", (t, n) => $"{1000 * t:0},{n}\n"),
        ["milliseconds by step"] = ("time,rpm\n", (t, n) => $"{1000 * t:0},{n}\n"),
        ["microseconds by header"] = ("time (us),rpm\n", (t, n) => $"{1e6 * t:0},{n}\n"),
        ["time of day"] = ("Time;RPM\n", (t, n) => $"{TimeSpan.FromSeconds(39598.9 + t):hh\\:mm\\:ss\\.f};{n}\n"),
        ["date and time of day"] = ("Time,RPM\n", (t, n) => $"2026-05-04T{TimeSpan.FromSeconds(36000 + t):hh\\:mm\\:ss\\.f}Z,{n}\n"),
        ["no header"] = ("", (t, n) => $"{t:0.0},{n}\n"),
        ["other columns around"] = ("load,time (s),coolant,rpm\n", (t, n) => $"20,{t:0.0},88,{n}\n"),
        ["quotes"] = ("\"time (s)\",\"rpm\"\n", (t, n) => $"\"{t:0.0}\",\"{n}\"\n"),
        ["lines over the header"] = ("Recorded by nobody\n\ntime (s),rpm\n", (t, n) => $"{t:0.0},{n}\n"),
        ["carriage returns"] = ("time (s),rpm\r\n", (t, n) => $"{t:0.0},{n}\r\n"),
        ["empty cells between"] = ("time (s),rpm\n", (t, n) => $"{t:0.0},{n}\n{t + 0.05:0.00},\n"),
    };

    public static TheoryData<string> DialectNames => [.. Dialects.Keys];

    [Theory]
    [MemberData(nameof(DialectNames))]
    public void Is_read_whatever_its_dialect(string name)
    {
        var (header, line) = Dialects[name];
        double[] speeds = [750, 751, 752.5, 748, 747, 749, 750, 752, 751, 750];

        var trace = Read(header + string.Concat(speeds.Select((n, i) => line(i / 10.0, n)))).Value;

        Assert.Equal(speeds, trace.Points.Select(p => p.Rpm));
        Assert.All(trace.Points.Select((p, i) => (p, i)), pair => Assert.Equal(pair.i / 10.0, pair.p.Seconds, 1e-6));
    }

    [Theory]
    //          header                step  columns           at       in the message
    [InlineData("time,rpm\n", 5, "750", "time", "choose ms or s")]
    [InlineData("", 1, "750", "time", "choose s if it is seconds")]
    [InlineData("time (s),a,b\n", 1, "750,850", "speed", "choose 2 or 3")]
    [InlineData("time (s),load\n", 1, "20", "speed", "No speed column")]
    [InlineData("rpm,load\n", 0, "20", "time", "No time column")]
    public void What_is_unclear_is_asked(string header, int step, string columns, string at, string message)
    {
        var error = Read(Log(header, step, columns)).Error!;

        Assert.Equal(at, error.At);
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_asked_can_be_answered()
    {
        var unclear = Log("time,rpm\n", 5, "750");
        Assert.Equal(5, Read(unclear, new() { Time = LogTime.Seconds }).Value.Points[1].Seconds, 1e-9);
        Assert.Equal(0.005, Read(unclear, new() { Time = LogTime.Milliseconds }).Value.Points[1].Seconds, 1e-9);

        var two = Log("time (s),a,b\n", 1, "750,850");
        Assert.Equal(851, Read(two, new() { SpeedColumn = 3 }).Value.Points[1].Rpm);
        Assert.Contains("no column 9", Read(two, new() { SpeedColumn = 9 }).Error!.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n")]
    [InlineData("hello\nworld\n")]
    [InlineData("a,b\nc,d\n")]
    [InlineData("time (s),rpm\n0,750\n0.1,751\n")]
    public void What_is_no_log_is_an_error(string text) => Assert.NotNull(Read(text).Error);

    [Theory]
    //          lines a second, step
    [InlineData(10, 1)]
    [InlineData(5, 1)]
    [InlineData(2, 1)]
    [InlineData(10, 10)]
    public void A_balance_run_is_found_in_a_log(double hz, double step)
    {
        var (plan, run) = Four.Value;
        var trace = Read(VirtualLog.Text(run, hz, step, noise: 0, seed: 1, separator: ";", decimalComma: true, header: "Zeit (s),Drehzahl")).Value;

        var drops = CancellationFinder.Find(trace, new() { Cylinders = 4 }).Drops;

        Assert.Equal(plan.Held.Length, drops.Length);
        Assert.All(plan.Held.Zip(drops), pair =>
        {
            Assert.Equal(pair.First.From, pair.Second.Start, 0.8);
            Assert.Equal(Outcome.TrueDrop(run, pair.First), pair.Second.Drop, 12.0);
        });
    }

    [Fact]
    public void Coarse_steps_and_gaps_are_said()
    {
        var run = Four.Value.Run;
        var coarse = Read(VirtualLog.Text(run, 10, 25, noise: 0, seed: 1)).Value;
        var lines = VirtualLog.Text(run, 10, 1, noise: 0, seed: 1).Split('\n');
        var gap = Read(string.Join('\n', lines.Where((_, i) => i is < 120 or > 160))).Value;

        Assert.Equal(25, coarse.StepRpm);
        Assert.Contains(CancellationFinder.Find(coarse, new() { Cylinders = 4 }).Reasons, r => r.Contains("steps of 25 rpm", StringComparison.Ordinal));
        Assert.Contains("1 gap", Assert.Single(gap.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void Any_text_at_all_is_answered() =>
        Gen.String[Gen.Char["0123456789.,;:\t\n -eErpmtimes\"\0é"], 0, 400].Sample(text => Read(text), iter: 3000);

    /// <summary>Twelve lines: a time in steps, then columns that count up by 0 to 3 in turn.</summary>
    private static string Log(string header, int step, string columns) => header + string.Concat(Enumerable.Range(0, 12).Select(i =>
        $"{step * i},{string.Join(',', columns.Split(',').Select(c => int.Parse(c, CultureInfo.InvariantCulture) + (i % 4)))}\n"));

    private static Parsed<SpeedTrace> Read(string text, SpeedLogOptions? options = null) =>
        SpeedLog.Read(new MemoryStream(Encoding.UTF8.GetBytes(text)), options ?? new());
}
