using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Writing;

/// <summary>The write queue for whoever acts in a scope: looks whether they may, and has the record name them.</summary>
internal sealed class ShopWriter(WriteQueue queue, IActing acting)
{
    /// <summary>The name for the records: the person's own, whatever the caller says; see <see cref="Actor.Signs"/>.</summary>
    public string Who(string by) => acting.Current.Signs(PlainText.Line(by));

    /// <summary>Runs a command that answers how it went. One that they may not do is refused in words.</summary>
    public Task<SaveResult> SaveAsync(Permission needs, Func<WriteScope, Task<SaveResult>> command, CancellationToken cancel)
    {
        var actor = Somebody(needs);
        return actor.MayChange(needs) ? queue.RunAsync(actor, command, cancel) : Task.FromResult(new SaveResult(SaveOutcome.Refused, "", actor.Refusal(needs)));
    }

    /// <summary>Runs a command whose answer cannot say that it was refused. Throws <see cref="NotAllowedException"/> when they may not do it.</summary>
    public Task<T> RunAsync<T>(Permission needs, Func<WriteScope, Task<T>> command, CancellationToken cancel)
    {
        var actor = Somebody(needs);
        return actor.MayChange(needs) ? queue.RunAsync(actor, command, cancel) : throw new NotAllowedException(actor.Refusal(needs));
    }

    /// <summary>Runs something between two transactions of the queue. Throws <see cref="NotAllowedException"/> when they may not do it.</summary>
    public Task RunAloneAsync(Permission needs, Func<Task> action, CancellationToken cancel)
    {
        var actor = Somebody(needs);
        return actor.MayChange(needs) ? queue.RunAloneAsync(action, cancel) : throw new NotAllowedException(actor.Refusal(needs));
    }

    /// <summary>
    /// A refusal ends a change: it leaves the tablet's journal. A change made by somebody who is signed out by now must stay there until they are back, so that is no refusal but a failure.
    /// </summary>
    private Actor Somebody(Permission needs) => acting.Current is { IsSomebody: true } actor ? actor : throw new NotAllowedException(Actor.Nobody.Refusal(needs));
}
