using ShopDiag.Signals.Waveforms.Injector;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class InjectorCurrentTests
{
    private static readonly CurrentOptions Supply = new() { SupplyVolts = 13.8, DriverVolts = 0.4 };

    public static TheoryData<double, double, double, double> Openings { get; } = new()
    {
        // needle leaves, stops, ms; noise A; bound ms
        { 0.9, 1.3, 0.002, 0.03 },
        { 1.2, 1.6, 0.005, 0.04 },
        { 1.6, 2.3, 0.005, 0.06 },
        { 0.7, 1.0, 0.010, 0.06 },
    };

    [Theory]
    [MemberData(nameof(Openings))]
    public void The_needles_stop_is_found(double leaves, double stops, double noise, double bound)
    {
        var injector = Injector(Currents.Injector(13.4, 12, 4e-3, leaves * 1e-3, stops * 1e-3), noise);

        Assert.Equal(OpeningHump.Present, injector.Hump);
        Assert.Equal(stops * 1e-3, injector.Open!.Median, bound * 1e-3);
        Assert.Equal(4e-3, injector.PulseWidth!.Median, 0.03e-3);
    }

    [Theory]
    [InlineData(0.002)]
    [InlineData(0.010)]
    public void A_stuck_needle_shows_no_hump(double noise)
    {
        var injector = Injector(Currents.Injector(13.4, 12, 4e-3, 1, 2, stuck: true), noise);

        Assert.Equal(OpeningHump.Absent, injector.Hump);
        Assert.Null(injector.Open);
        Assert.Contains(injector.Findings, f => f.Contains("stuck", StringComparison.Ordinal));
    }

    [Fact]
    public void A_hot_winding_is_not_a_hump() =>
        Assert.Equal(OpeningHump.Absent, Injector(Currents.Injector(13.4, 16, 6e-3, 1, 2, stuck: true), 0.004).Hump);

    [Fact]
    public void Too_much_noise_is_said_and_not_guessed()
    {
        var injector = Injector(Currents.Injector(13.4, 12, 3e-3, 1.1e-3, 1.5e-3), 0.12);

        Assert.Equal(OpeningHump.Unclear, injector.Hump);
        Assert.Contains(injector.Reasons, r => r.Contains("noisy", StringComparison.Ordinal));
    }

    [Fact]
    public void Resistance_comes_from_the_settled_current_only()
    {
        Assert.Equal(12, Injector(Currents.Injector(13.4, 12, 8e-3, 1.2e-3, 1.6e-3), 0.003).Ohm!.Median, 0.2);
        var early = Injector(Currents.Injector(13.4, 12, 2e-3, 1.2e-3, 1.6e-3), 0.003);
        Assert.Null(early.Ohm);
        Assert.Contains(early.Reasons, r => r.Contains("not settled", StringComparison.Ordinal));
    }

    [Fact]
    public void Peak_and_hold_is_split_before_anything_is_looked_for()
    {
        var injector = Injector(Currents.Injector(13.4, 2, 5e-3, 0.45e-3, 0.75e-3, peak: 4, hold: 1, closed: 2e-3), 0.02, rate: 200_000);

        Assert.All(injector.Pulses, p => Assert.True(p.PeakAndHold));
        Assert.Equal(1, injector.Hold!.Median, 0.06);
        Assert.Equal(4, injector.Peak!.Median, 0.15);
        Assert.Null(injector.Ohm);
        Assert.Contains(injector.Reasons, r => r.Contains("regulates", StringComparison.Ordinal));
    }

    [Fact]
    public void One_that_sticks_at_times_is_told_by_its_share()
    {
        double[] good = Currents.Injector(13.4, 12, 4e-3, 1.2e-3, 1.6e-3), rest = new double[8000];
        double[] round = [.. good, .. rest, .. good, .. rest, .. good, .. rest, .. Currents.Injector(13.4, 12, 4e-3, 1, 2, stuck: true)];

        var injector = Injector(round, 0.004);

        Assert.Equal(OpeningHump.Present, injector.Hump);
        Assert.Contains(injector.Findings, f => f.Contains("8 of 32", StringComparison.Ordinal));
    }

    private static InjectorCurrent Injector(double[] pulse, double noise, double rate = 100_000) =>
        InjectorCurrent.Analyse(Currents.Recorded(pulse, 8, rate, noise, 2), Supply).Value;
}
