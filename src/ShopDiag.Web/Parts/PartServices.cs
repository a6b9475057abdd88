using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Parts;

/// <summary>Moves pieces of a part.</summary>
/// <param name="Part">The part.</param>
/// <param name="From">Where it was on the screen.</param>
/// <param name="To">Where it goes.</param>
/// <param name="Quantity">How many pieces.</param>
/// <param name="By">By whom.</param>
public sealed record MovePart(Guid Part, PartState From, PartState To, int Quantity, string By);

/// <summary>Takes a step back.</summary>
/// <param name="Part">The part.</param>
/// <param name="Moved">The id of the command that moved it.</param>
/// <param name="From">Where that command took it.</param>
/// <param name="By">By whom.</param>
public sealed record TakeBackPart(Guid Part, Guid Moved, PartState From, string By);

/// <summary>Says whether the old part went back for its deposit.</summary>
/// <param name="Part">The part.</param>
/// <param name="Back">Whether it did.</param>
/// <param name="By">By whom.</param>
public sealed record OldPartBack(Guid Part, bool Back, string By);

/// <summary>What the pages of parts need.</summary>
public static class PartServices
{
    /// <summary>Kind of the command that moves a part.</summary>
    public const string Move = "step of a part";

    /// <summary>Kind of the command that takes a step back.</summary>
    public const string TakeBack = "step of a part taken back";

    /// <summary>Kind of the command about the old part.</summary>
    public const string Core = "old part sent back";

    /// <summary>Adds the steps of parts and the handlers of their commands and drafts.</summary>
    public static IServiceCollection AddPartPages(this IServiceCollection services) => services
        .AddScoped<PartSteps>()
        .AddScoped<IDraftHandler, PartDrafts>()
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<MovePart>(Move, (c, id, cancel) => Store(s).MoveAsync(c.Part, c.To, c.Quantity, id, c.By, c.From, cancel)))
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<TakeBackPart>(TakeBack, (c, id, cancel) => Store(s).TakeBackAsync(c.Part, c.Moved, c.From, id, c.By, cancel)))
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<OldPartBack>(Core, (c, id, cancel) => Store(s).SetCoreBackAsync(c.Part, c.Back, id, c.By, cancel)));

    private static PartStore Store(IServiceProvider services) => services.GetRequiredService<PartStore>();
}
