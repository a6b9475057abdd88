using Microsoft.AspNetCore.Http.HttpResults;
using ShopDiag.Reports;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;
using ShopDiag.Web.Photos;

namespace ShopDiag.Web.Papers;

/// <summary>The papers over HTTP.</summary>
public static class PaperEndpoints
{
    /// <summary>Adds customer.pdf, parts.pdf, invoice.pdf and bench.pdf (<c>?blank=true</c>) under <c>/orders/{number}</c>; <c>?paper=letter</c> or <c>a4</c> overrides the shop's paper.</summary>
    public static void MapPapers(this IEndpointRouteBuilder app)
    {
        app.MapGet("/orders/{number:int}/customer.pdf", (int number, string? paper, OrderStore orders, ShopStore shops, PaperMaker maker, PhotosForPaper photos, CancellationToken cancel) =>
            AnswerAsync(number, paper, orders, shops, async (order, settings, size) => maker.CustomerReport(order, settings, await photos.OfAsync(order, cancel), size), cancel)).Needs(Permission.PrintCustomerPapers);
        app.MapGet("/orders/{number:int}/parts.pdf", (int number, string? paper, OrderStore orders, ShopStore shops, PaperMaker maker, CancellationToken cancel) =>
            AnswerAsync(number, paper, orders, shops, (order, settings, size) => Task.FromResult(maker.PartsList(order, settings, size)), cancel)).Needs(Permission.PrintPapers);
        app.MapGet("/orders/{number:int}/invoice.pdf", (int number, string? paper, OrderStore orders, ShopStore shops, PaperMaker maker, CancellationToken cancel) =>
            AnswerAsync(number, paper, orders, shops, (order, settings, size) => Task.FromResult(maker.Invoice(order, settings, size)), cancel)).Needs(Permission.PrintCustomerPapers);
        app.MapGet("/orders/{number:int}/bench.pdf", (int number, string? paper, bool? blank, OrderStore orders, ShopStore shops, PaperMaker maker, CancellationToken cancel) =>
            AnswerAsync(number, paper, orders, shops, (order, settings, size) => Task.FromResult(maker.BenchSheet(order, settings, size, blank == true)), cancel)).Needs(Permission.PrintPapers);
    }

    private static async Task<Results<FileContentHttpResult, NotFound, BadRequest<string>>> AnswerAsync(
        int number, string? paper, OrderStore orders, ShopStore shops, Func<RepairOrder, ShopSettings, PaperSize, Task<byte[]?>> make, CancellationToken cancel)
    {
        var settings = await shops.GetAsync(cancel) ?? new ShopSettings();
        var size = PaperSizes.Parse(paper ?? settings.Paper);
        if (size.Error is { } error)
        {
            return TypedResults.BadRequest(error.Message);
        }

        return await orders.GetByNumberAsync(number, cancel) is { } order && await make(order, settings, size.Value) is { } bytes
            ? TypedResults.File(bytes, "application/pdf")
            : TypedResults.NotFound();
    }
}
