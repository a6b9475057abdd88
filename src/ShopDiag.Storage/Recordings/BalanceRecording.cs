using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Storage.Recordings;

/// <summary>What a recording holds.</summary>
public enum RecordingKind
{
    /// <summary>Sound as a WAV file.</summary>
    Sound,

    /// <summary>Engine speed over time as a CSV file.</summary>
    SpeedLog,
}

/// <summary>A cylinder that was announced as off. Times in seconds on the clock of the recording.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="From">When "cancel now" was said.</param>
/// <param name="To">When "restore now" was said.</param>
/// <param name="TakenBack">True when it does not count: broken off, or taken again.</param>
public sealed record AnnouncedTime(int Cylinder, double From, double To, bool TakenBack = false);

/// <summary>A drop that the technician gave to a cylinder, or to none, by hand.</summary>
/// <param name="Start">When the drop begins, seconds, to a tenth: what it is known by.</param>
/// <param name="Cylinder">The cylinder; 0 when it is no cylinder's and does not count.</param>
public sealed record GivenDrop(double Start, int Cylinder);

/// <summary>What is known of the cancellations in a recording.</summary>
public sealed record RecordingPlan
{
    /// <summary>The cylinders in the order in which they were cancelled.</summary>
    public ImmutableArray<int> Order { get; init; } = [];

    /// <summary>When each was announced; empty for a recording made elsewhere.</summary>
    public ImmutableArray<AnnouncedTime> Times { get; init; } = [];

    /// <summary>What was said by hand about single drops.</summary>
    public ImmutableArray<GivenDrop> Given { get; init; } = [];

    /// <summary>Speed in rpm at which the engine was heard, to within a fifth; null when nobody knows it.</summary>
    public double? RoughRpm { get; init; }

    /// <summary>Column of a log that is the speed, from 1 on; null to find out.</summary>
    public int? SpeedColumn { get; init; }

    /// <summary>Unit of a log's time: <c>s</c>, <c>ms</c> or <c>us</c>; null to find out.</summary>
    public string? TimeUnit { get; init; }
}

/// <summary>A recording of a balance run, kept with the order. Its sound or log is a file beside the database.</summary>
public sealed record BalanceRecording
{
    /// <summary>Key, made by the client; also the file's name.</summary>
    public required Guid Id { get; init; }

    /// <summary>The order.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>Sound or log.</summary>
    public required RecordingKind Kind { get; init; }

    /// <summary>Begun, UTC.</summary>
    public DateTime MadeAt { get; init; }

    /// <summary>By whom, or empty.</summary>
    public string By { get; init; } = "";

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>Number of cylinders of the engine then.</summary>
    public required int Cylinders { get; init; }

    /// <summary>How the cylinders were cancelled (id of a <see cref="Diagnosis.Engines.CancelMethod"/>), or empty.</summary>
    public string Method { get; init; } = "";

    /// <summary>The cancellations.</summary>
    public RecordingPlan Plan { get; init; } = new();

    /// <summary>Length in seconds; 0 while it is not finished.</summary>
    public double Seconds { get; init; }

    /// <summary>Seconds of it that did not arrive and are silence in the file.</summary>
    public double LostSeconds { get; init; }

    /// <summary>False while it is being made, and for one that was broken off by the end of the program.</summary>
    public bool Finished { get; init; }

    /// <summary>When its readings were put on the order, UTC; null while they were not.</summary>
    public DateTime? ConfirmedAt { get; init; }

    /// <summary>When it was deleted, UTC; null while it was not. The file goes <see cref="RecordingStore.KeptAfterRemoval"/> later.</summary>
    public DateTime? RemovedAt { get; init; }
}
