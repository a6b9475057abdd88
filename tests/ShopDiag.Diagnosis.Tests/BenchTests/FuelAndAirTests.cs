using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class FuelAndAirTests
{
    private static Engine DirectFour { get; } = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], injection: Injection.Direct);

    private static Reading Injector(int cylinder, double ohm, double? celsius = 20) =>
        celsius is { } c ? At(cylinder, N("ohm", ohm), N("celsius", c)) : At(cylinder, N("ohm", ohm));

    private static string Injectors(Engine engine, params double[] ohms) => Judge(engine, "injector-resistance", ohms.Select((o, i) => Injector(i + 1, o))).Outcomes();

    [Theory]
    [InlineData("ticking")]
    [InlineData("silent")]
    [InlineData("different")]
    public void Sound_is_as_the_technician_heard_it(string sound)
    {
        var finding = JudgeOne(I4, "injector-sound", At(2, T("sound", sound)));
        Assert.Equal(sound, finding.Outcome);
        Assert.StartsWith("Sound: ", finding.Because, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("pulsing")]
    [InlineData("absent")]
    [InlineData("steady-on")]
    public void Control_is_as_the_technician_found_it(string signal) =>
        Assert.Equal(signal, JudgeOne(I4, "injector-control", At(2, T("signal", signal))).Outcome);

    /// <summary>GM, Buick 2004 Century: 11 to 14 ohm, corrected to 20 C by copper (D18).</summary>
    [Theory]
    [InlineData(12.5, 20, "within")]
    [InlineData(11, 20, "within")]
    [InlineData(14, 20, "within")]
    [InlineData(10.9, 20, "out")]
    [InlineData(14.1, 20, "out")]
    [InlineData(14.83, 80, "within")]
    [InlineData(15.77, 100, "within")]
    [InlineData(10.11, -20, "within")]
    [InlineData(1000000, 20, "open")]
    [InlineData(0.3, 20, "shorted")]
    public void D18_one_injector_is_judged_at_20_degrees(double ohm, double celsius, string outcome)
    {
        var finding = JudgeOne(I4, "injector-resistance", Injector(1, ohm, celsius));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(Copper.At20(ohm, celsius), finding.Measure);
    }

    [Fact]
    public void Without_a_temperature_20_degrees_are_taken_and_said() =>
        Assert.Contains("no temperature was noted", JudgeOne(I4, "injector-resistance", Injector(1, 12, null)).Because, StringComparison.Ordinal);

    [Theory]
    [InlineData("the farthest from the average beyond 3 ohm", "within within within out", 12.5, 12.6, 12.4, 9.3)]
    [InlineData("outside the limits while the others are inside", "within within within out", 12.5, 12.6, 12.4, 15.0)]
    [InlineData("another make, all alike", "within within within within", 15.0, 15.2, 14.9, 15.1)]
    [InlineData("low-ohm injectors, one off", "within within out within", 2.0, 2.1, 6.2, 2.0)]
    [InlineData("an open one leaves the others alone", "within open within within", 12.5, 50000.0, 12.4, 12.6)]
    [InlineData("two beyond the spread", "out within within out", 9.2, 12.9, 12.8, 17.0)]
    public void Injectors_are_compared(string _, string outcomes, params double[] ohms) => Assert.Equal(outcomes, Injectors(I4, ohms));

    [Fact]
    public void Own_limits_go_before_the_comparison() =>
        Assert.Equal("out out out out", Injectors(I4.With(("injector-max-ohm", 14.5)), 15.0, 15.2, 14.9, 15.1));

    [Fact]
    public void A_lone_direct_injector_cannot_be_judged_by_a_port_injectors_limits()
    {
        Assert.Equal("-", Injectors(DirectFour, 1.5));
        Assert.Equal("within within within within", Injectors(DirectFour, 1.5, 1.6, 1.5, 1.5));
        Assert.Equal("within", Injectors(DirectFour.With(("injector-min-ohm", 1), ("injector-max-ohm", 2)), 1.5));
    }

    [Fact]
    public void Any_resistance_is_answered() => Gen.Select(Gen.Double[0, 1e8], Gen.Double[-40, 150]).Array[1, 4].Sample(windings =>
        Assert.Equal(windings.Length, Judge(I4, "injector-resistance", windings.Select((w, i) => Injector(i + 1, w.Item1, w.Item2))).Length));

    [Fact]
    public void Numbering_the_injectors_otherwise_numbers_the_findings_otherwise() => Gen.Select(Gen.Double[8, 18].Array[4], Numberings).Sample((ohms, number) =>
    {
        var findings = Judge(I4, "injector-resistance", ohms.Select((o, i) => Injector(i + 1, o))).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At);
        Assert.Equal(findings, Judge(I4, "injector-resistance", ohms.Select((o, i) => Injector(number[i], o))));
    });

    [Fact]
    public void A_leak_is_told_with_where_it_is_at_any_place()
    {
        var findings = Judge(V6, "intake-leak", At(Place.Engine, T("found", "no")), At(Place.Bank(2), T("found", "yes"), T("where", "plenum gasket")), At(4, T("found", "yes"), T("where", "runner")));
        Assert.Equal("none leak leak", findings.Outcomes());
        Assert.Equal([Place.Engine, Place.Bank(2), Place.Cylinder(4)], findings.Select(f => f.At));
        Assert.Equal("Air gets in past the metering: runner.", findings[2].Because);
    }

    [Fact]
    public void A_leak_found_once_and_once_not_is_looked_for_again() =>
        Assert.True(JudgeOne(I4, "intake-leak", At(4, T("found", "yes")), At(4, T("found", "no"))) is { Outcome: null, TrialsDisagree: true });

    [Theory]
    [InlineData(2, 3, 1, 2, "normal")]
    [InlineData(5, 5, 5, 5, "normal")]
    [InlineData(8, 9, 1, 2, "lean-at-idle")]
    [InlineData(1, 2, 8, 9, "lean-under-load")]
    [InlineData(8, 9, 8, 9, "lean-everywhere")]
    [InlineData(-8, -9, -8, -9, "rich")]
    [InlineData(-8, -9, 0, 1, "rich")]
    [InlineData(0, 1, -8, -9, "rich")]
    [InlineData(-20, 25, -3, 4, "normal")]
    [InlineData(8, 9, -8, -9, null)]
    public void Trims_are_added_and_judged_at_both_speeds(double idleShort, double idleLong, double speedShort, double speedLong, string? outcome)
    {
        var reading = At(Place.Bank(1), N("idle.shortPercent", idleShort), N("idle.longPercent", idleLong), N("2500rpm.shortPercent", speedShort), N("2500rpm.longPercent", speedLong));
        Assert.Equal(outcome, JudgeOne(V6, "fuel-trims", reading).Outcome);
    }

    [Theory]
    [InlineData(2, 3, "normal")]
    [InlineData(8, 9, null)]
    [InlineData(-8, -9, "rich")]
    public void Idle_alone_tells_rich_and_normal_but_not_which_kind_of_lean(double shortTerm, double longTerm, string? outcome)
    {
        var finding = JudgeOne(V6, "fuel-trims", At(Place.Bank(2), N("idle.shortPercent", shortTerm), N("idle.longPercent", longTerm)));
        Assert.Equal(outcome, finding.Outcome);
        Assert.True(finding.Outcome is not null || finding.Because.Contains("2500 rpm too", StringComparison.Ordinal));
    }

    [Fact]
    public void D04_sum_of_trims_is_said_with_its_sign()
    {
        // 41 06 8F and 41 07 85: +11.719 % and +3.906 %.
        var finding = JudgeOne(I4, "fuel-trims", At(Place.Bank(1), N("idle.shortPercent", 11.71875), N("idle.longPercent", 3.90625), N("2500rpm.shortPercent", 0), N("2500rpm.longPercent", 1)));
        Assert.Equal(15.625, finding.Measure);
        Assert.StartsWith("Short plus long term +15.6 % at idle and +1 % at 2500 rpm (limit 10 % either way, the general limit): lean at idle only", finding.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_trims_are_answered() => Gen.Double[-100, 100].Array[4].Sample(t =>
        Assert.NotNull(JudgeOne(I4, "fuel-trims", At(Place.Bank(1), N("idle.shortPercent", t[0]), N("idle.longPercent", t[1]), N("2500rpm.shortPercent", t[2]), N("2500rpm.longPercent", t[3])))));

    private static Reading Trims(int bank, double idle, double speed) => At(
        Place.Bank(bank), N("idle.shortPercent", 0), N("idle.longPercent", idle), N("2500rpm.shortPercent", 0), N("2500rpm.longPercent", speed));

    private static Finding Earlier(string aspect, int cylinder, string outcome) => new() { Test = aspect, Aspect = aspect, At = Place.Cylinder(cylinder), Outcome = outcome, Because = "" };

    [Theory]
    [InlineData("power-balance", "dead", true)]
    [InlineData("misfire-counts", "misfiring", true)]
    [InlineData("codes-misfire", "coded", true)]
    [InlineData("power-balance", "contributing", false)]
    [InlineData("codes-misfire", "not-coded", false)]
    public void A_lean_trim_minds_a_cylinder_of_its_bank_that_does_not_fire(string aspect, string outcome, bool minds)
    {
        var findings = Judge(V6, "fuel-trims", [Trims(1, 22, 20), Trims(2, 22, 20)], earlier: [Earlier(aspect, 4, outcome)]);
        const string trap = "Mind that cylinder 4 of this bank misfires: the air that it does not burn reaches the oxygen sensor";
        Assert.DoesNotContain("Mind", findings.Single(f => f.At == Place.Bank(1)).Because, StringComparison.Ordinal);
        Assert.Equal(minds, findings.Single(f => f.At == Place.Bank(2)).Because.Contains(trap, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(2, 1)]
    [InlineData(-22, -20)]
    public void A_trim_that_is_not_lean_has_no_such_trap(double idle, double speed) =>
        Assert.DoesNotContain("Mind", Judge(V6, "fuel-trims", [Trims(2, idle, speed)], earlier: [Earlier("power-balance", 4, "dead")]).Single().Because, StringComparison.Ordinal);

    [Theory]
    [InlineData("one bank alone", 22, 20, 2, 1, "The other bank is within the limit: look for something of this bank alone.")]
    [InlineData("both alike", 22, 20, 21, 24, "The other bank is off the same way: look for something that the banks share.")]
    [InlineData("both rich", -22, -20, -21, -24, "The other bank is off the same way: look for something that the banks share.")]
    [InlineData("one lean, one rich", 22, 20, -21, -24, "")]
    public void Banks_are_compared(string _, double idle, double speed, double otherIdle, double otherSpeed, string says)
    {
        var because = Judge(V6, "fuel-trims", Trims(1, idle, speed), Trims(2, otherIdle, otherSpeed))[0].Because;
        Assert.Equal(says.Length > 0, because.Contains("The other bank", StringComparison.Ordinal));
        Assert.EndsWith(says, because, StringComparison.Ordinal);
    }
}
