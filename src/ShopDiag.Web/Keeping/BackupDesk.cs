using ShopDiag.Storage.Backups;

namespace ShopDiag.Web.Keeping;

/// <summary>How the last backup or restore of this process ended.</summary>
/// <param name="Words">In plain words.</param>
/// <param name="IsWrong">True when it failed.</param>
/// <param name="At">When, UTC.</param>
public sealed record DeskOutcome(string Words, bool IsWrong, DateTime At);

/// <summary>
/// Makes and restores backups for the pages: one at a time, and to its end, whether the page that asked is still open or not.
/// </summary>
public sealed class BackupDesk(BackupStore store, TimeProvider time, ILogger<BackupDesk> log)
{
    private readonly Lock _gate = new();
    private Task _running = Task.CompletedTask;

    /// <summary>What is being done; null when nothing is.</summary>
    public BackupProgress? Progress { get; private set; }

    /// <summary>How the last one ended; null while there was none.</summary>
    public DeskOutcome? Outcome { get; private set; }

    /// <summary>Raised when either has changed. The callback must not block.</summary>
    public event Action? Changed;

    /// <summary>Ends when what is being done has ended.</summary>
    public Task Done
    {
        get
        {
            lock (_gate)
            {
                return _running;
            }
        }
    }

    /// <summary>Begins a backup; false when something is being done already.</summary>
    public bool MakeBackup() => Begin("Beginning", async progress =>
    {
        var made = await store.MakeAsync(BackupKind.Asked, progress);
        return made.Missing.IsEmpty
            ? "The backup is made and checked."
            : $"The backup is made and checked. {KeepingWords.Files(made.Missing.Length)} that the records speak of could not be in it: they were missing before.";
    });

    /// <summary>Begins to put a backup back; false when something is being done already.</summary>
    public bool Restore(string name) => Begin("Beginning", async progress =>
    {
        var before = await store.RestoreAsync(name, progress);
        return before is null
            ? "The backup has been put back."
            : "The backup has been put back. What was there before is kept as the newest of the backups: put that one back to undo this.";
    });

    private bool Begin(string first, Func<IProgress<BackupProgress>, Task<string>> work)
    {
        lock (_gate)
        {
            if (!_running.IsCompleted)
            {
                return false;
            }

            Progress = new(first);
            Outcome = null;
            _running = Task.Run(() => RunAsync(work));
        }

        Changed?.Invoke();
        return true;
    }

    private async Task RunAsync(Func<IProgress<BackupProgress>, Task<string>> work)
    {
        try
        {
            var words = await work(new Reporter(this));
            Outcome = new(words, false, time.GetUtcNow().UtcDateTime);
        }
        catch (Exception e)
        {
            log.LogError(e, "A backup could not be made or put back");
            Outcome = new(e is BackupException or IOException or UnauthorizedAccessException ? e.Message : "An error of the program stopped it. What was there is as it was.", true, time.GetUtcNow().UtcDateTime);
        }

        Progress = null;
        Changed?.Invoke();
    }

    private sealed class Reporter(BackupDesk desk) : IProgress<BackupProgress>
    {
        private const double Noticed = 0.01;

        public void Report(BackupProgress value)
        {
            // A file at a time would have a page drawn anew thousands of times.
            if (desk.Progress is { } shown && shown.Step == value.Step && value.Part - shown.Part < Noticed)
            {
                return;
            }

            desk.Progress = value;
            desk.Changed?.Invoke();
        }
    }
}
