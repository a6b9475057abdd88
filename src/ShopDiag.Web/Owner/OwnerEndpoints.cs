using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using ShopDiag.Diagnosis;
using ShopDiag.Reports;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures as files.</summary>
public static class OwnerEndpoints
{
    /// <summary>
    /// Adds <c>GET /owner/comebacks.csv</c> and <c>/owner/comebacks.pdf</c>, and one's own as <c>/me/figures.csv</c> and <c>.pdf</c>, with <c>?by=…&amp;from=…&amp;to=…&amp;who=…&amp;over=…</c>; days as <c>2026-03-31</c>. The second takes <c>paper=letter</c> or <c>a4</c> over the shop's own.
    /// </summary>
    public static void MapOwner(this IEndpointRouteBuilder app)
    {
        app.MapGet("/owner/comebacks.csv", CsvAsync).Needs(Permission.SeeFigures);
        app.MapGet("/owner/comebacks.pdf", PaperAsync).Needs(Permission.SeeFigures);
        app.MapGet("/me/figures.csv", ([AsParameters] Asked asked, IActing acting) => CsvAsync(asked with { Who = acting.Current.Name })).Needs(Permission.WorkOnOrders);
        app.MapGet("/me/figures.pdf", ([AsParameters] Asked asked, string? paper, ShopLogo logo, IActing acting) => PaperAsync(asked with { Who = acting.Current.Name }, paper, logo)).Needs(Permission.WorkOnOrders);
    }

    private static async Task<FileContentHttpResult> CsvAsync([AsParameters] Asked asked)
    {
        // With a mark at the start: without it spreadsheets take the letters beyond ASCII for others.
        byte[] bytes = [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(OwnerCsv.Write(await asked.ReadAsync(), asked.Knowledge))];
        return TypedResults.File(bytes, "text/csv; charset=utf-8", "comebacks.csv");
    }

    private static async Task<Results<FileContentHttpResult, BadRequest<string>>> PaperAsync([AsParameters] Asked asked, string? paper, ShopLogo logo)
    {
        var settings = await asked.SettingsAsync();
        var size = PaperSizes.Parse(paper ?? settings.Paper);
        return size.Error is { } error
            ? TypedResults.BadRequest(error.Message)
            : TypedResults.File(
                Reports.Papers.FigureReport(OwnerPaper.Of(await asked.ReadAsync(), settings, asked.Knowledge, logo.Read()), size.Value), "application/pdf");
    }

    /// <summary>What is asked in an address, and what it takes to answer.</summary>
    private sealed record Asked(string? By, string? From, string? To, string? Who, string? Over, ComebackStore Store, ShopStore Shops, Knowledge Knowledge, TimeProvider Time, CancellationToken Cancel)
    {
        public async Task<ShopSettings> SettingsAsync() => await Shops.GetAsync(Cancel) ?? new ShopSettings();

        public async Task<OwnerReport> ReadAsync() => await OwnerReport.ReadAsync(Store, await SettingsAsync(), Time, OwnerLinks.Read(By, From, To, Who, Over), Cancel);
    }
}
