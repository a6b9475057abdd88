using ShopDiag.Web.BalanceRuns;

namespace ShopDiag.Web.Tests.BalanceRuns;

public sealed class SoundClockTests
{
    private const int Rate = 16000;

    private static SoundClock Begun(double longest = 900)
    {
        var clock = new SoundClock(longest);
        Assert.True(clock.Begin(Rate, 0));
        return clock;
    }

    [Fact]
    public void What_follows_is_taken_whole_a_gap_becomes_silence_and_a_repeat_is_passed_over()
    {
        var clock = Begun();
        Assert.Equal((0, 0, 1600), clock.Place(0, 1600, 0.1));
        Assert.Equal((800, 0, 1600), clock.Place(2400, 1600, 0.3));
        Assert.Equal((0, 1500, 100), clock.Place(2500, 1600, 0.4));
        Assert.Equal((0, 1600, 0), clock.Place(0, 1600, 0.5));
        Assert.Equal(0.05, clock.LostSeconds);
        Assert.Equal(0.5, clock.LastSound);
    }

    [Fact]
    public void A_stream_at_another_rate_is_refused_and_one_at_the_same_goes_on_where_the_clock_is()
    {
        var clock = Begun();
        clock.Place(0, 1600, 0.15);
        Assert.Equal(0.05, clock.LateAt(0), 9);
        Assert.False(clock.Begin(48000, 1));
        Assert.True(clock.Begin(Rate, 1.15));
        Assert.Equal((16000, 0, 1600), clock.Place(0, 1600, 1.3));
    }

    [Fact]
    public void What_was_held_back_is_made_up_and_what_was_lost_stays_lost()
    {
        var clock = Begun();
        Assert.Equal(0, clock.LateAt(0));
        clock.Place(0, 1600, 0.15);
        clock.Place(1600, 1600, 2.2);
        clock.Place(3200, 1600, 2.21);

        // Two seconds late so far; then the rest of it comes at once, but for half a second that the microphone never gave.
        Assert.Equal(1.91, clock.LateAt(2.2), 9);
        clock.Place(4800, 24000, 2.35);
        Assert.Equal(0.05, clock.LateAt(0.1), 9);
        Assert.Equal(0.55, clock.LateAt(0.2), 9);
        Assert.Equal(0.55, clock.LateAt(2.3), 9);
        Assert.Equal(0.55, clock.LateAt(9), 9);
    }

    [Fact]
    public void The_recordings_clock_stands_still_in_a_pause()
    {
        var clock = Begun();
        clock.Place(0, 1600, 0.1);
        clock.PassOver(1600, 16000, 1.1);
        clock.PassOver(1600, 16000, 1.2);
        Assert.Equal((1.2, 0), (clock.LastSound, clock.LostSeconds));
        Assert.Equal((0, 0, 1600), clock.Place(17600, 1600, 1.3));
        Assert.Equal(0, clock.LateAt(0.05), 9);
        Assert.Equal(1.1, clock.LateAt(1.25), 9);
        Assert.Equal(0, clock.LostSeconds);
    }

    [Theory]
    [InlineData(1600)]
    [InlineData(long.MaxValue / 4)]
    public void Beyond_the_longest_nothing_is_taken_however_large_the_gap(long first)
    {
        var clock = Begun(longest: 0.1);
        clock.Place(0, 1600, 0.1);
        Assert.Equal((0, 0, 0), clock.Place(first, 1600, 0.2));
        Assert.Equal(0, clock.LostSeconds);
    }
}
