namespace ShopDiag.Obd.Logs;

/// <summary>
/// Time stamps as seconds from the first one. Candump can write the time of day, seconds from the start, or the gap to the line before; gaps are known by going back
/// again and again.
/// </summary>
internal sealed class StampReader
{
    /// <summary>A stamp below this may be a gap between two lines, in seconds; a time of day is larger.</summary>
    private const double LongestGap = 3600;

    /// <summary>Gaps go back at nearly half of the lines, a clock hardly ever; a fifth lies between.</summary>
    private const double LeastShareBack = 0.2;

    private double? _first;
    private double _last;
    private double _sum;
    private int _back;
    private int _count;

    public double Seconds(double stamp)
    {
        _first ??= stamp;
        _count++;
        _back += stamp < _last - 1e-9 && _count > 1 ? 1 : 0;
        _sum += _count > 1 && stamp is >= 0 and < LongestGap ? stamp : 0;
        _last = stamp;

        // Gaps go back at about every other line; the first lines, read as times before that shows, are a little off.
        return _first == 0 && _back >= 2 && LeastShareBack * _count <= _back ? _sum : stamp - _first.Value;
    }
}
