using System.CommandLine;
using ShopDiag.Comebacks.Wire;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;
using ShopDiag.Web.Verbs;

namespace ShopDiag.Web.Api;

/// <summary>Verbs that read the shop's records, over HTTP: report and comebacks.</summary>
internal static class ShopEndpoints
{
    private const string Pdf = "application/pdf";

    /// <summary>Adds them.</summary>
    public static void MapShop(this IEndpointRouteBuilder api)
    {
        api.MapPaper("customer", TokenGrant.CustomerPapers, "Customer report of an order", "What was told, tested, found and proposed.");
        api.MapPaper("invoice", TokenGrant.CustomerPapers, "Invoice of an order", "What was done and what it comes to.");
        api.MapPaper("parts", TokenGrant.Papers, "Parts list of an order", "Vehicle, engine and each part; nothing of the customer and no prices.");
        api.MapPaper("bench", TokenGrant.Papers, "Bench sheet of an order", "The cylinder sheet, blank where nothing has been measured yet.");
        var verb = new ComebacksVerb();
        api.MapFigures(verb, "/comebacks", verb.OfLines, Figures("comebacks", "Repairs and comebacks", "The owner's figures, a group a line. As the verb comebacks.") with { Gives = ApiEndpoints.Lines, GivesLine = "FiguresLine" },
            (_, _, report, _) => new LinesResult(ApiEndpoints.Lines, OwnerFiguresJson.Lines(report.Figures)));
        api.MapFigures(verb, "/comebacks.pdf", verb.OfPaper, Figures("comebacksOnPaper", "Repairs and comebacks on paper", "The owner's figures with charts. As the verb comebacks with --pdf."),
            (services, settings, report, asked) => Results.Bytes(verb.Pdf(services, settings, report, asked), Pdf));

        static ApiOperation Figures(string id, string summary, string description) => new() { Id = id, Summary = summary, Description = description, Grant = ProgramWords.Of(TokenGrant.Figures), Gives = Pdf };
    }

    private static void MapPaper(this IEndpointRouteBuilder api, string kind, TokenGrant grant, string summary, string description)
    {
        var paper = ReportVerb.Paper();
        var command = new Command("report") { paper };
        api.MapGet($"/report/{kind}/{{order:int}}", async (int order, HttpContext http, OrderStore orders, CancellationToken cancel) =>
        {
            var asked = VerbQuery.Read(command, [], http.Request.Query);
            if (asked.Error is { } wrong)
            {
                return ApiProblem.Of(StatusCodes.Status400BadRequest, wrong);
            }

            if (await orders.GetByNumberAsync(order, cancel) is not { } found)
            {
                return new ApiProblem(StatusCodes.Status404NotFound, $"There is no order {order}.", "order");
            }

            var (bytes, why) = await ReportVerb.PaperAsync(http.RequestServices, found, kind, asked.Value.GetValue(paper), cancel);
            return bytes is null ? new ApiProblem(StatusCodes.Status409Conflict, why, "order") : Results.Bytes(bytes, Pdf);
        }).WithTags("Records of the shop").Needs(ProgramToken.PermissionOf(grant)).RequireRateLimiting(ApiEndpoints.WorkLimit).WithMetadata(new ApiOperation
        {
            Id = $"report{char.ToUpperInvariant(kind[0])}{kind[1..]}", Summary = summary, Description = $"{description} As the verb report {kind}.", Grant = ProgramWords.Of(grant), Query = [paper], Gives = Pdf, OfOrder = true,
        });
    }

    private static void MapFigures(
        this IEndpointRouteBuilder api, ComebacksVerb verb, string path, IReadOnlyList<Option> options, ApiOperation operation, Func<IServiceProvider, ShopSettings, Owner.OwnerReport, System.CommandLine.Parsing.CommandResult, IResult> answer)
    {
        var command = new Command("comebacks");
        options.ToList().ForEach(command.Add);
        api.MapGet(path, async (HttpContext http, ShopStore shops, CancellationToken cancel) =>
        {
            var asked = VerbQuery.Read(command, [], http.Request.Query);
            if (asked.Error is { } wrong)
            {
                return ApiProblem.Of(StatusCodes.Status400BadRequest, wrong);
            }

            var settings = await shops.GetAsync(cancel) ?? new ShopSettings();
            return answer(http.RequestServices, settings, await verb.ReadAsync(http.RequestServices, settings, asked.Value, cancel), asked.Value);
        }).WithTags("Records of the shop").Needs(Permission.SeeFigures).RequireRateLimiting(ApiEndpoints.WorkLimit).WithMetadata(operation with { Query = options });
    }
}
