namespace ShopDiag.Signals.SpeedLogs;

/// <summary>The unit of a log's time column.</summary>
public enum LogTime
{
    /// <summary>Seconds.</summary>
    Seconds,

    /// <summary>Milliseconds.</summary>
    Milliseconds,

    /// <summary>Microseconds.</summary>
    Microseconds,
}

/// <summary>What a person may say about a log that it does not say itself.</summary>
public sealed record SpeedLogOptions
{
    /// <summary>Unit of the time column; null to find out.</summary>
    public LogTime? Time { get; init; }

    /// <summary>The speed column by number, from 1 on; null to find out.</summary>
    public int? SpeedColumn { get; init; }
}
