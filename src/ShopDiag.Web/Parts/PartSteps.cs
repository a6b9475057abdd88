using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Parts;

/// <summary>A step that was made and can be taken back.</summary>
/// <param name="Command">The id of its command.</param>
/// <param name="Part">The part.</param>
/// <param name="To">Where it went.</param>
/// <param name="Quantity">How many pieces.</param>
public sealed record PartStep(Guid Command, Guid Part, PartState To, int Quantity);

/// <summary>Every way to change a part from a page. One for each circuit.</summary>
public sealed class PartSteps(PartStore parts, CommandJournal commands, Tablet tablet)
{
    /// <summary>Moves pieces of a part; the step is null when nothing was moved.</summary>
    public async Task<(SaveResult Result, PartStep? Step)> MoveAsync(PartOnOrder part, PartState to, int quantity)
    {
        ArgumentNullException.ThrowIfNull(part);
        var id = Guid.NewGuid();
        var result = await commands.RunAsync(PartServices.Move, id, CommandJson.Write(new MovePart(part.Id, part.State, to, quantity, tablet.By)));
        return (result, result.Outcome == SaveOutcome.Saved ? new(id, part.Id, to, quantity) : null);
    }

    /// <summary>Takes a step back.</summary>
    public Task<SaveResult> TakeBackAsync(PartStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        return commands.RunAsync(PartServices.TakeBack, Guid.NewGuid(), CommandJson.Write(new TakeBackPart(step.Part, step.Command, step.To, tablet.By)));
    }

    /// <summary>Says whether the old part went back for its deposit.</summary>
    public Task<SaveResult> SetCoreBackAsync(Guid part, bool back) =>
        commands.RunAsync(PartServices.Core, Guid.NewGuid(), CommandJson.Write(new OldPartBack(part, back, tablet.By)));

    /// <summary>Saves what was entered in a field.</summary>
    public Task<SaveResult> SaveFieldAsync(Guid part, PartField field, FieldEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return parts.SetFieldAsync(part, field, entry.Value, entry.Base, entry.Id, tablet.By);
    }
}
