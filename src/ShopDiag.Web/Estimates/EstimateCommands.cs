using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Estimates;

/// <summary>Adds an empty line to an estimate.</summary>
/// <param name="Order">The order.</param>
/// <param name="Line">The line's key.</param>
/// <param name="Kind">What it asks money for.</param>
/// <param name="By">By whom.</param>
public sealed record AddLine(Guid Order, Guid Line, LineKind Kind, string By);

/// <summary>Takes a line off, or puts it back.</summary>
/// <param name="Order">The order.</param>
/// <param name="Line">The line's key.</param>
/// <param name="Removed">True to take it off.</param>
/// <param name="By">By whom.</param>
public sealed record TakeOffLine(Guid Order, Guid Line, bool Removed, string By);

/// <summary>Lets parts of an unproven cause go on.</summary>
/// <param name="Order">The order.</param>
/// <param name="Reason">Why.</param>
/// <param name="By">By whom.</param>
public sealed record GoOnWithoutProof(Guid Order, string Reason, string By);

/// <summary>Makes the lines of the finding again.</summary>
/// <param name="Order">The order.</param>
/// <param name="By">By whom.</param>
public sealed record DraftAgain(Guid Order, string By);

/// <summary>The journalled commands of the estimate page.</summary>
public static class EstimateCommands
{
    /// <summary>Kind of <see cref="Estimates.AddLine"/>.</summary>
    public const string AddLine = "new line";

    /// <summary>Kind of <see cref="TakeOffLine"/>.</summary>
    public const string TakeOff = "line off or on";

    /// <summary>Kind of <see cref="GoOnWithoutProof"/>.</summary>
    public const string GoOn = "go on without proof";

    /// <summary>Kind of <see cref="DraftAgain"/>.</summary>
    public const string Draft = "estimate from the finding";

    /// <summary>Adds the handlers of commands and drafts.</summary>
    public static IServiceCollection AddEstimatePages(this IServiceCollection services) => services
        .AddScoped<IDraftHandler, LineDrafts>()
        .AddEstimateCommand<AddLine>(AddLine, (store, c, id, cancel) => store.AddLineAsync(c.Order, c.Line, c.Kind, id, c.By, cancel))
        .AddEstimateCommand<TakeOffLine>(TakeOff, (store, c, id, cancel) => store.SetRemovedAsync(c.Order, c.Line, c.Removed, id, c.By, cancel))
        .AddEstimateCommand<GoOnWithoutProof>(GoOn, (store, c, id, cancel) => store.GoAheadAsync(c.Order, c.Reason, id, c.By, cancel))
        .AddEstimateCommand<DraftAgain>(Draft, (store, c, id, cancel) => store.DraftAsync(c.Order, id, c.By, cancel));

    private static IServiceCollection AddEstimateCommand<T>(this IServiceCollection services, string kind, Func<EstimateStore, T, Guid, CancellationToken, Task<SaveResult>> handle) =>
        services.AddScoped<ICommandHandler>(s => new JsonCommandHandler<T>(kind, (command, id, cancel) => handle(s.GetRequiredService<EstimateStore>(), command, id, cancel)));
}
