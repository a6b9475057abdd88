using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using ShopDiag.Diagnosis;
using ShopDiag.Reports;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures as files.</summary>
public static class OwnerEndpoints
{
    /// <summary>
    /// Adds <c>GET /owner/comebacks.csv</c> and <c>/owner/comebacks.pdf</c>, both with <c>?by=…&amp;from=…&amp;to=…&amp;who=…&amp;over=…</c>; days as <c>2026-03-31</c>. The second takes <c>paper=letter</c> or <c>a4</c> over the shop's own.
    /// </summary>
    public static void MapOwner(this IEndpointRouteBuilder app)
    {
        app.MapGet("/owner/comebacks.csv", async (string? by, string? from, string? to, string? who, string? over, ComebackStore store, ShopStore shops, Knowledge knowledge, TimeProvider time, CancellationToken cancel) =>
        {
            var report = await OwnerReport.ReadAsync(store, await shops.GetAsync(cancel) ?? new ShopSettings(), time, OwnerLinks.Read(by, from, to, who, over), cancel);
            // With a mark at the start: without it spreadsheets take the letters beyond ASCII for others.
            byte[] bytes = [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(OwnerCsv.Write(report, knowledge))];
            return TypedResults.File(bytes, "text/csv; charset=utf-8", "comebacks.csv");
        });
        app.MapGet("/owner/comebacks.pdf", PaperAsync);
    }

    private static async Task<Results<FileContentHttpResult, BadRequest<string>>> PaperAsync(
        string? by, string? from, string? to, string? who, string? over, string? paper, ComebackStore store, ShopStore shops, ShopLogo logo, Knowledge knowledge, TimeProvider time, CancellationToken cancel)
    {
        var settings = await shops.GetAsync(cancel) ?? new ShopSettings();
        var size = PaperSizes.Parse(paper ?? settings.Paper);
        if (size.Error is { } error)
        {
            return TypedResults.BadRequest(error.Message);
        }

        var report = await OwnerReport.ReadAsync(store, settings, time, OwnerLinks.Read(by, from, to, who, over), cancel);
        return TypedResults.File(Reports.Papers.FigureReport(OwnerPaper.Of(report, settings, knowledge, logo.Read()), size.Value), "application/pdf");
    }
}
