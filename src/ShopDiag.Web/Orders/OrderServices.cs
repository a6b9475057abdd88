using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Orders;

/// <summary>What the order pages need.</summary>
public static class OrderServices
{
    /// <summary>Kind of the command that moves an order.</summary>
    public const string Move = "step of the order";

    /// <summary>Kind of the command that chooses an engine.</summary>
    public const string Engine = "engine";

    /// <summary>Kind of the command that uses a known vehicle.</summary>
    public const string Vehicle = "known car";

    /// <summary>Kind of the command that says whether an order is a comeback.</summary>
    public const string Comeback = "comeback or not";

    /// <summary>Adds the handlers of commands and drafts.</summary>
    public static IServiceCollection AddOrderPages(this IServiceCollection services) => services
        .AddScoped<OrderPageServices>()
        .AddScoped<IDraftHandler, OrderDrafts>()
        .AddCommand<MoveOrder>(Move, (store, c, id, cancel) => store.MoveAsync(c.Order, c.Stage, c.By, c.Reason, id, cancel))
        .AddCommand<ChooseEngine>(Engine, (store, c, id, cancel) => store.SetEngineAsync(c.Order, c.Engine, c.Title, id, c.By, cancel))
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<AnswerComeback>(
            Comeback, (c, id, cancel) => s.GetRequiredService<ComebackStore>().AnswerComebackAsync(c.Order, c.Earlier, c.Answer, c.By, id, cancel)))
        .AddCommand<UseVehicle>(Vehicle, (store, c, id, cancel) => store.UseVehicleAsync(c.Order, c.Vehicle, id, cancel));

    /// <summary>Adds the handler of one kind of command on orders.</summary>
    public static IServiceCollection AddCommand<T>(this IServiceCollection services, string kind, Func<OrderStore, T, Guid, CancellationToken, Task<SaveResult>> handle) =>
        services.AddScoped<ICommandHandler>(s => new JsonCommandHandler<T>(kind, (command, id, cancel) => handle(s.GetRequiredService<OrderStore>(), command, id, cancel)));
}
