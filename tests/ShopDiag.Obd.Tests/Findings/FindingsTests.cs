using System.Globalization;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Tests.Findings;

public sealed class FindingsTests
{
    private static readonly CanId Gearbox = new(0x7E9, false);

    [Fact]
    public void Trims_are_taken_at_idle_and_at_2500_rpm_standing_and_in_closed_loop()
    {
        List<string> lines = [.. Decoded.Lines(Decoded.Engine, "41 03 02 00", 0), .. Decoded.Lines(Decoded.Engine, "41 0D 00", 0.1)];
        void Read(double at, int rpm, string trim, string trims) => lines.AddRange([.. Decoded.Lines(Decoded.Engine, $"41 0C {4 * rpm / 256:X2} {4 * rpm % 256:X2}", at), .. Decoded.Lines(Decoded.Engine, $"41 06 {trim}", at + 0.1), .. Decoded.Lines(Decoded.Engine, $"41 07 {trims}", at + 0.2)]);
        Read(1, 700, "8F", "85");
        Read(2, 710, "90", "85");
        Read(3, 690, "FF", "85");
        Read(4, 1700, "80", "80");
        lines.AddRange(Decoded.Lines(Decoded.Engine, "41 03 02 00", 4.5));
        Read(5, 2500, "82", "81");

        var findings = ObdFindings.From(Decoded.Log([.. lines]));

        Assert.Equal([new TrimsFound(1, TrimPoint.Idle, 12.5, 3.90625, 3), new TrimsFound(1, TrimPoint.At2500, 1.5625, 0.78125, 1)], findings.Trims);
        Assert.Contains(findings.Remarks, r => r.StartsWith("2 fuel trim readings left out: the engine was neither at idle", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("41 03 01 00", "in open loop")]
    [InlineData("41 0D 32", "rolling")]
    [InlineData("41 05 7B", "engine speed at that moment is not in the log")]
    public void Trims_that_say_nothing_are_left_out_with_the_reason(string first, string says)
    {
        var speed = says.Contains("speed", StringComparison.Ordinal) ? "41 05 7B" : "41 0C 0B B8";

        var findings = ObdFindings.From(Decoded.Log(first, speed, "41 06 8F", "41 07 85"));

        Assert.Empty(findings.Trims);
        Assert.Contains(findings.Remarks, r => r.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public void Misfires_between_two_readings_come_with_their_revolutions()
    {
        List<string> lines = [.. Counter(2, 10, 0), .. Counter(3, 4, 0.05)];
        for (var i = 0; i <= 60; i++)
        {
            lines.AddRange(Decoded.Lines(Decoded.Engine, "41 0C 0B B8", 0.1 + i));
        }

        lines.AddRange([.. Counter(2, 110, 60.2), .. Counter(3, 3, 60.3)]);

        var misfires = ObdFindings.From(Decoded.Log([.. lines])).Misfires;

        Assert.Equal([2, 3], misfires.Select(m => m.Cylinder));
        Assert.Equal(100, misfires[0].Counted);
        Assert.Equal(750 * 60.2 / 60, misfires[0].Revolutions!.Value, 0.5);
        Assert.Null(misfires[1].Counted);
    }

    [Fact]
    public void Without_engine_speed_over_the_whole_time_misfires_have_no_revolutions()
    {
        List<string> lines = [.. Counter(2, 10, 0), .. Decoded.Lines(Decoded.Engine, "41 0C 0B B8", 0.1), .. Decoded.Lines(Decoded.Engine, "41 0C 0B B8", 30), .. Counter(2, 110, 30.2)];

        Assert.Null(Assert.Single(ObdFindings.From(Decoded.Log([.. lines])).Misfires).Revolutions);
    }

    [Fact]
    public void Codes_before_and_after_clearing_are_kept_apart_and_the_last_answer_counts()
    {
        var findings = ObdFindings.From(Decoded.Log(
            "7E8 04 43 01 03 01", "7E9 02 43 00", "7E8 06 43 02 03 01 01 71", "7E8 04 47 01 03 00", "7DF 01 04", "7E8 01 44", "7E9 01 44", "7E8 02 43 00"));

        Assert.Equal(
            ["7E8 Stored 0 P0301,P0171", "7E8 Pending 0 P0300", "7E9 Stored 0 ", "7E8 Stored 1 "],
            findings.Codes.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Unit} {c.Kind} {c.Cleared} {string.Join(',', c.Codes)}")));
        Assert.Equal(1, findings.Cleared);
        Assert.Contains(findings.Remarks, r => r.StartsWith("Codes were cleared in this log:", StringComparison.Ordinal));
    }

    [Fact]
    public void Speed_comes_from_one_control_unit_in_order_of_time()
    {
        List<string> lines = [.. Decoded.Lines(Gearbox, "41 0C 10 00", 0.5)];
        foreach (var at in new[] { 1.0, 3, 2 })
        {
            lines.AddRange(Decoded.Lines(Decoded.Engine, "41 0C 0B B8", at));
        }

        Assert.Equal([new SpeedSample(0.5, 750), new(1.5, 750), new(2.5, 750)], ObdFindings.From(Decoded.Log([.. lines])).Speed);
        Assert.Empty(ObdFindings.From(Decoded.Log("7E8 04 41 0C 0B B8")).Speed);
    }

    [Fact]
    public void Two_vins_are_both_shown_and_said()
    {
        const string Other = "49 02 01 31 4D 38 47 44 4D 39 41 58 4B 50 30 34 32 37 38 38";
        var findings = ObdFindings.From(Decoded.Log([.. Decoded.Lines(Decoded.Engine, "49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 37", 0), .. Decoded.Lines(Gearbox, Other, 1)]));

        Assert.Equal(["1G1JC5444R7252367", "1M8GDM9AXKP042788"], findings.Vins.Select(v => v.Vin.Text));
        Assert.Contains(findings.Remarks, r => r.Contains("different VINs", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_live_value_has_its_range()
    {
        var value = Assert.Single(ObdFindings.From(Decoded.Log("7E8 03 41 05 7B", "7E8 03 41 05 50", "7E8 03 41 05 60")).Values);

        Assert.Equal((56.0, 40.0, 83.0, 3), (value.Last.Number!.Value, value.Least!.Value, value.Most!.Value, value.Count));
    }

    private static IEnumerable<string> Counter(int cylinder, int count, double at) =>
        Decoded.Lines(Decoded.Engine, $"46 {0xA1 + cylinder:X2} 0C 24 {count / 256:X2} {count % 256:X2} 00 00 FF FF", at);
}
