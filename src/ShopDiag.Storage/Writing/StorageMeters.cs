using System.Diagnostics.Metrics;

namespace ShopDiag.Storage.Writing;

/// <summary>What the writer counts and times, for whoever listens (System.Diagnostics.Metrics). Numbers only, never what is written.</summary>
public static class StorageMeters
{
    /// <summary>Name of the meter.</summary>
    public const string Name = "ShopDiag.Storage";

    private static readonly Meter Meter = new(Name);

    private static readonly Histogram<double> Commit = Meter.CreateHistogram<double>("shopdiag.commit.duration", "s", "From the first command of a transaction to its being on disk.");
    private static readonly Histogram<int> Batch = Meter.CreateHistogram<int>("shopdiag.commit.commands", "{command}", "Commands that shared a transaction.");
    private static readonly Counter<long> Failed = Meter.CreateCounter<long>("shopdiag.commit.failures", "{transaction}", "Transactions that could not be committed.");

    internal static void Committed(int commands, TimeSpan took)
    {
        Commit.Record(took.TotalSeconds);
        Batch.Record(commands);
    }

    internal static void CommitFailed() => Failed.Add(1);
}
