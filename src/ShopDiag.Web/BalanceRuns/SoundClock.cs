namespace ShopDiag.Web.BalanceRuns;

/// <summary>
/// Where sound that comes in blocks stands in a recording: gaps become silence, what comes twice is passed over, and the time between two streams (a page that was loaded
/// anew) is kept; the time of a pause is not. Seconds are those of the run's own clock. For one thread.
/// </summary>
/// <param name="longest">Seconds after which nothing more is taken.</param>
public sealed class SoundClock(double longest)
{
    /// <summary>A connection that was slow just before a page was loaded anew is looked past over this long.</summary>
    private const double LatelySeconds = 10;

    private int _rate;
    private long _base;
    private long _expected;

    // Blocks later than which none came less late: the lateness grows from one to the next.
    private readonly List<(double Seconds, double Late)> _least = [];

    /// <summary>Seconds of silence put in for sound that was lost on the way.</summary>
    public double LostSeconds { get; private set; }

    /// <summary>When sound last came.</summary>
    public double LastSound { get; private set; }

    /// <summary>
    /// By how much the run's clock was ahead of the recording's at a time: the least lateness of any block from then on, since what is lost (a browser that could not keep up with
    /// its microphone) is never made up, while what the connection held back is. 0 before there was sound.
    /// </summary>
    public double LateAt(double seconds)
    {
        var at = _least.FindIndex(b => b.Seconds >= seconds);
        return _least.Count == 0 ? 0 : _least[at < 0 ? ^1 : at].Late;
    }

    private long Room => Math.Max(0, (long)(longest * _rate) - _expected);

    /// <summary>A stream begins, at a rate. False when the rate is not that of the first.</summary>
    public bool Begin(int rate, double now)
    {
        if (_rate != 0 && rate != _rate)
        {
            return false;
        }

        // What the recording's clock says now; the samples of the new stream count from there.
        (_base, _rate, LastSound) = (_rate == 0 ? 0 : Math.Max(_expected, (long)Math.Round((now - LateAt(LastSound - LatelySeconds)) * _rate)), rate, now);
        return true;
    }

    /// <summary>Gives a block its place: how much silence goes before it, how many of its samples are passed over, and how many are taken.</summary>
    /// <param name="first">Number of its first sample in its stream.</param>
    /// <param name="samples">How many it has.</param>
    /// <param name="now">The time.</param>
    public (int Silence, int Skip, int Take) Place(long first, int samples, double now)
    {
        var gap = _base + first - _expected;
        var silence = (int)Math.Clamp(gap, 0, Room);
        _expected += silence;
        var skip = (int)Math.Clamp(-gap, 0, samples);
        var take = Room > 0 ? samples - skip : 0;
        _expected += take;
        LostSeconds += (double)silence / _rate;
        Came(now);
        return (silence, skip, take);
    }

    /// <summary>Passes a block over, as while the run is paused: the recording's clock stands still meanwhile.</summary>
    /// <param name="first">Number of its first sample in its stream.</param>
    /// <param name="samples">How many it has.</param>
    /// <param name="now">The time.</param>
    public void PassOver(long first, int samples, double now)
    {
        // One that comes twice was passed over before.
        _base = Math.Min(_base, _expected - first - samples);
        Came(now);
    }

    private void Came(double now)
    {
        var late = now - ((double)_expected / _rate);
        var kept = _least.FindLastIndex(b => b.Late < late) + 1;
        _least.RemoveRange(kept, _least.Count - kept);
        _least.Add((now, late));
        LastSound = now;
    }
}
