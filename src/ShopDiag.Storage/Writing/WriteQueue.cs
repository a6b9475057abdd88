using System.Diagnostics;
using System.Threading.Channels;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Writing;

/// <summary>
/// The one writer of this process. Commands that arrive together share one transaction and so one flush to disk; each runs behind
/// a savepoint, so that one that fails fails alone. A command is answered after the commit, never before.
/// </summary>
internal sealed class WriteQueue : IAsyncDisposable, IDisposable
{
    /// <summary>Commands in one transaction at most: keeps the longest wait of the first of them short.</summary>
    internal const int MaxBatch = 64;

    private const string Savepoint = "command";

    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ChangeBus _bus;
    private readonly TimeProvider _time;
    private readonly StorageTrouble _trouble;
    private readonly Channel<Work> _waiting = Channel.CreateUnbounded<Work>(new UnboundedChannelOptions { SingleReader = true });
    private readonly Task _writer;

    // Rows of the transaction at hand. One that wrote nothing says nothing about the disk.
    private int _written;

    public WriteQueue(IDbContextFactory<ShopDb> contexts, ChangeBus bus, TimeProvider time, StorageTrouble trouble)
    {
        (_contexts, _bus, _time, _trouble) = (contexts, bus, time, trouble);
        _writer = Task.Run(WriteAsync);
    }

    /// <summary>Number of transactions committed so far.</summary>
    internal long Commits { get; private set; }

    /// <summary>
    /// Runs a command in the writer's next transaction and answers once it is on disk. Cancelling gives up waiting;
    /// a command that has been started is saved all the same. Throws what the command threw, and then nothing of it is saved.
    /// </summary>
    public Task<T> RunAsync<T>(Func<WriteScope, Task<T>> command, CancellationToken cancel) => RunAsync(Actor.Program, command, cancel);

    /// <summary>The same for somebody, whom the record will name.</summary>
    public async Task<T> RunAsync<T>(Actor actor, Func<WriteScope, Task<T>> command, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        var work = new Work<T>(actor, command, cancel);
        ObjectDisposedException.ThrowIf(!_waiting.Writer.TryWrite(work), this);
        return await work.Answer.WaitAsync(cancel).ConfigureAwait(false);
    }

    /// <summary>
    /// Runs something between two transactions, while nothing is written: what came before is committed, what comes after waits. Throws what it threw.
    /// </summary>
    public async Task RunAloneAsync(Func<Task> action, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        var work = new Alone(action, cancel);
        ObjectDisposedException.ThrowIf(!_waiting.Writer.TryWrite(work), this);
        await work.Answer.ConfigureAwait(false);
    }

    /// <summary>Commits what is waiting and stops.</summary>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await _writer.ConfigureAwait(false);
    }

    /// <summary>The same for a container that is disposed of synchronously.</summary>
    public void Dispose() => DisposeAsync().AsTask().GetAwaiter().GetResult();

    private async Task WriteAsync()
    {
        var batch = new List<Work>(MaxBatch);
        while (await _waiting.Reader.WaitToReadAsync().ConfigureAwait(false))
        {
            while (batch.Count < MaxBatch && _waiting.Reader.TryPeek(out var next) && next is not Alone && _waiting.Reader.TryRead(out var work))
            {
                batch.Add(work);
            }

            if (batch.Count > 0)
            {
                await CommitAsync(batch).ConfigureAwait(false);
                batch.Clear();
            }
            else if (_waiting.Reader.TryRead(out var first) && first is Alone alone)
            {
                await alone.RunAsync().ConfigureAwait(false);
            }
        }
    }

    private async Task CommitAsync(List<Work> batch)
    {
        var began = Stopwatch.GetTimestamp();
        _written = 0;
        try
        {
            var db = _contexts.CreateDbContext();
            await using (db.ConfigureAwait(false))
            {
                // Every command has a savepoint of its own already.
                db.Database.AutoSavepointsEnabled = false;
                var transaction = await db.Database.BeginTransactionAsync().ConfigureAwait(false);
                await using (transaction.ConfigureAwait(false))
                {
                    foreach (var work in batch)
                    {
                        await RunAsync(work, db, transaction).ConfigureAwait(false);
                    }

                    await transaction.CommitAsync().ConfigureAwait(false);
                }
            }

            Commits++;
            StorageMeters.Committed(batch.Count, Stopwatch.GetElapsedTime(began));
        }
#pragma warning disable CA1031 // Whatever went wrong, whoever waits must hear of it, and the writer must go on for the next batch.
        catch (Exception e)
#pragma warning restore CA1031
        {
            StorageMeters.CommitFailed();
            _trouble.Note(e);
            // Whoever was saved with the one that found the disk full hears the same reason, not that of the rollback.
            var why = (StorageTrouble.Of(e) ?? _trouble.Message) is { } trouble ? new StorageTroubleException(trouble, e) : e;
            batch.ForEach(w => w.Fail(why));
            return;
        }

        if (_written > 0)
        {
            _trouble.Note(null);
        }

        foreach (var order in batch.SelectMany(w => w.Changed).Distinct())
        {
            _bus.Publish(order);
        }

        batch.ForEach(w => w.Acknowledge());
    }

    private async Task RunAsync(Work work, ShopDb db, IDbContextTransaction transaction)
    {
        if (work.IsGivenUp)
        {
            work.GiveUp();
            return;
        }

        await transaction.CreateSavepointAsync(Savepoint).ConfigureAwait(false);
        try
        {
            var scope = new WriteScope(db, _time.GetUtcNow().UtcDateTime, work.Actor);
            await work.RunAsync(scope).ConfigureAwait(false);
            _written += await db.SaveChangesAsync().ConfigureAwait(false);
            if (scope.ChangedOrders.Count > 0)
            {
                db.ChangeTracker.Clear();
                await Summaries.KeepAsync(db, scope.ChangedOrders).ConfigureAwait(false);
            }

            work.Changed = scope.ChangedOrders;
        }
#pragma warning disable CA1031 // The command's own failure goes to whoever sent it; the others of the batch go on.
        catch (Exception e)
#pragma warning restore CA1031
        {
            _trouble.Note(e);
            work.Fail(StorageTrouble.Of(e) is { } trouble ? new StorageTroubleException(trouble, e) : e);
            // Where the database has rolled back everything by itself (disk full) this throws, and the whole batch fails.
            await transaction.RollbackToSavepointAsync(Savepoint).ConfigureAwait(false);
        }

        await transaction.ReleaseSavepointAsync(Savepoint).ConfigureAwait(false);
        // The next command must read rows from the database, not what this one left half changed in memory.
        db.ChangeTracker.Clear();
    }

    private abstract class Work(Actor actor, CancellationToken cancel)
    {
        public Actor Actor => actor;

        public bool IsGivenUp => cancel.IsCancellationRequested;

        public IReadOnlyCollection<Guid> Changed { get; set; } = [];

        protected CancellationToken Cancel => cancel;

        public abstract Task RunAsync(WriteScope scope);

        public abstract void Acknowledge();

        public abstract void Fail(Exception e);

        public abstract void GiveUp();
    }

    private sealed class Alone(Func<Task> action, CancellationToken cancel) : Work(Actor.Program, cancel)
    {
        private readonly TaskCompletionSource _answer = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task Answer => _answer.Task;

        public async Task RunAsync()
        {
            if (IsGivenUp)
            {
                GiveUp();
                return;
            }

            try
            {
                await action().ConfigureAwait(false);
                Acknowledge();
            }
#pragma warning disable CA1031 // Whatever went wrong, whoever waits must hear of it, and the writer must go on.
            catch (Exception e)
#pragma warning restore CA1031
            {
                Fail(e);
            }
        }

        public override Task RunAsync(WriteScope scope) => throw new InvalidOperationException("Runs between transactions.");

        public override void Acknowledge() => _answer.TrySetResult();

        public override void Fail(Exception e) => _answer.TrySetException(e);

        public override void GiveUp() => _answer.TrySetCanceled(Cancel);
    }

    private sealed class Work<T>(Actor actor, Func<WriteScope, Task<T>> command, CancellationToken cancel) : Work(actor, cancel)
    {
        // Whoever waits must not go on inside the writer's loop.
        private readonly TaskCompletionSource<T> _answer = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private T? _result;

        public Task<T> Answer => _answer.Task;

        public override async Task RunAsync(WriteScope scope) => _result = await command(scope).ConfigureAwait(false);

        public override void Acknowledge() => _answer.TrySetResult(_result!);

        public override void Fail(Exception e) => _answer.TrySetException(e);

        public override void GiveUp() => _answer.TrySetCanceled(Cancel);
    }
}
