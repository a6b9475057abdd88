using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Coil;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class CoilCurrentTests
{
    private static readonly CurrentOptions Supply14 = new() { SupplyVolts = 14, DriverVolts = 0 };

    [Fact]
    public void Current_through_a_winding_is_that_of_the_textbook()
    {
        // OpenStax, College Physics, section "RL Circuits": 7.50 mH, 3.00 ohm: 2.50 ms; 10.0 A are 1.35 A after 5.00 ms.
        Assert.Equal(2.50e-3, RlCircuit.Tau(3, 7.5e-3), 1e-12);
        Assert.Equal(1.35, RlCircuit.Decay(10, 3, 7.5e-3, 5e-3), 0.005);
    }

    [Theory]
    [InlineData(1, 3.727)]
    [InlineData(2, 6.959)]
    [InlineData(3, 9.760)]
    public void Current_of_a_coil_at_14_volts(double milliseconds, double amps)
    {
        // 14 V, 0.5 ohm, 3.5 mH: the law of the rise, worked out by hand.
        Assert.Equal(amps, RlCircuit.Rise(14, 0.5, 3.5e-3, milliseconds * 1e-3), 0.001);

        // And the generator of these tests, and what is measured of it.
        var coil = Coil(Currents.Coil(14, 0.5, 3.5e-3, milliseconds * 1e-3), 0.01);
        Assert.Equal(amps, coil.Peak!.Median, 0.02 * amps);
        Assert.Equal(milliseconds * 1e-3, coil.Dwell!.Median, 0.02e-3);
        Assert.Equal(CoilEnd.Rising, coil.End);
    }

    [Theory]
    [InlineData(3.5e-3, 0.5, 0.02)]
    [InlineData(7.5e-3, 3.0, 0.02)]
    [InlineData(2.2e-3, 0.8, 0.05)]
    public void Inductance_and_time_constant_come_from_the_rise(double henry, double ohm, double noise)
    {
        var coil = Coil(Currents.Coil(14, ohm, henry, 3e-3), noise);

        Assert.Equal(henry, coil.Henry!.Median, 0.03 * henry);
        Assert.Equal(henry / ohm, coil.Tau!.Median, 0.1 * henry / ohm);
    }

    [Fact]
    public void A_limited_current_says_when_the_limit_is_reached()
    {
        // 7 A at 14 V are reached after 2.014 ms (the law of the rise, solved for the time).
        var coil = Coil(Currents.Coil(14, 0.5, 3.5e-3, 3.5e-3, limit: 7), 0.03);

        Assert.Equal(CoilEnd.Limited, coil.End);
        Assert.Equal(2.014e-3, coil.LimitReached!.Median, 0.03e-3);
        Assert.Equal(7, coil.Peak!.Median, 0.05);
    }

    [Fact]
    public void A_limit_that_is_short_is_seen() =>
        Assert.Equal(CoilEnd.Limited, Coil(Currents.Coil(14, 0.5, 3.5e-3, 2.3e-3, limit: 7), 0.02).End);

    [Fact]
    public void A_current_that_flattens_by_its_resistance_is_not_called_limited() =>
        Assert.Equal(CoilEnd.Settled, Coil(Currents.Coil(14, 3, 3.5e-3, 8e-3), 0.02).End);

    [Fact]
    public void A_full_core_is_named_and_does_not_spoil_the_inductance()
    {
        var coil = Coil(Currents.Coil(14, 0.5, 3.5e-3, 3.3e-3, full: 8.5), 0.03);

        Assert.Equal(CoilEnd.Saturated, coil.End);
        Assert.Equal(3.5e-3, coil.Henry!.Median, 0.35e-3);
        Assert.Contains(coil.Findings, f => f.Contains("core is full", StringComparison.Ordinal));
    }

    [Fact]
    public void Shorted_turns_among_sisters_are_named()
    {
        double[] good = Currents.Coil(14, 0.5, 3.5e-3, 2.5e-3), rest = new double[8000];
        double[] round = [.. good, .. new double[100], .. rest, .. good, .. new double[100], .. rest, .. Currents.Coil(14, 0.5, 1.6e-3, 2.5e-3)];

        var coil = Coil(round, 0.03);

        Assert.Contains(coil.Findings, f => f.Contains("shorted turns", StringComparison.Ordinal));
        Assert.DoesNotContain(Coil(good, 0.03).Findings, f => f.Contains("shorted turns", StringComparison.Ordinal));
    }

    [Fact]
    public void Volts_of_an_unknown_clamp_give_times_and_no_amps()
    {
        var pulse = Currents.Coil(14, 0.5, 3.5e-3, 2.5e-3);
        var waveform = Currents.Recorded(pulse, 6, 200_000, 0.02, 3, unit: "mV", factor: -100);

        var unknown = CoilCurrent.Analyse(waveform, Supply14).Value;
        var known = CoilCurrent.Analyse(waveform, Supply14 with { AmpsPerVolt = 10 }).Value;

        Assert.Null(unknown.Peak);
        Assert.Equal(2.5e-3, unknown.Dwell!.Median, 0.02e-3);
        Assert.Contains(unknown.Reasons, r => r.Contains("amps a volt", StringComparison.Ordinal));
        Assert.Contains(unknown.Reasons, r => r.Contains("turned over", StringComparison.Ordinal));
        Assert.Equal(pulse[^1], known.Peak!.Median, 0.1);
    }

    [Fact]
    public void What_holds_no_charging_says_so()
    {
        Assert.Contains("no pulses", CoilCurrent.Analyse(Currents.Recorded(new double[1000], 5, 100_000, 0.1, 4), new()).Error!.Message, StringComparison.Ordinal);
        Assert.Contains("too few", CoilCurrent.Analyse(Currents.Recorded(Currents.Coil(14, 0.5, 3.5e-3, 3e-3), 5, 5_000, 0, 4), new()).Error!.Message, StringComparison.Ordinal);
        Assert.Equal("channel", CoilCurrent.Analyse(new Waveform(1e5, 0, []), new()).Error!.At);
    }

    private static CoilCurrent Coil(double[] pulse, double noise) => CoilCurrent.Analyse(Currents.Recorded(pulse, 8, 200_000, noise, 1), Supply14).Value;
}
