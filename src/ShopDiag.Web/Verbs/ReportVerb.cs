using System.CommandLine;
using ShopDiag.Diagnosis;
using ShopDiag.Reports;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Photos;

namespace ShopDiag.Web.Verbs;

/// <summary><c>report KIND ORDER FILE</c>: a paper of an order as a PDF file.</summary>
internal static class ReportVerb
{
    private const int BadInput = 1;

    public static Command Create(Option<string?> data)
    {
        var kind = new Argument<string>("KIND") { Description = "customer, parts, bench or invoice." };
        kind.AcceptOnlyFromAmong("customer", "parts", "bench", "invoice");
        var number = new Argument<int>("ORDER") { Description = "Number of the repair order." };
        var file = new Argument<string>("FILE") { Description = "Where to write the PDF." };
        var paper = Paper();
        var command = new Command("report", "Write a paper of an order as PDF.") { kind, number, file, paper };
        command.SetAction((parsed, cancel) => RunAsync(
            DataFolder.Resolve(parsed.GetValue(data)), parsed.GetRequiredValue(kind), parsed.GetRequiredValue(number), parsed.GetRequiredValue(file), parsed.GetValue(paper), cancel));
        return command;
    }

    /// <summary>The option that says how large the paper is.</summary>
    public static Option<string?> Paper()
    {
        var paper = new Option<string?>("--paper") { Description = "letter or a4; otherwise the shop's own." };
        paper.AcceptOnlyFromAmong("letter", "a4");
        return paper;
    }

    private static async Task<int> RunAsync(string folder, string kind, int number, string file, string? paper, CancellationToken cancel)
    {
        await using var services = new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System).AddShopStorage(folder).BuildServiceProvider();
        await services.OpenShopForReadingAsync(cancel);
        if (await services.GetRequiredService<OrderStore>().GetByNumberAsync(number, cancel) is not { } order)
        {
            return await WrongAsync($"There is no order {number} in {folder}.");
        }

        var (bytes, why) = await PaperAsync(services, order, kind, paper, cancel);
        if (bytes is null)
        {
            return await WrongAsync(why);
        }

        await File.WriteAllBytesAsync(file, bytes, cancel);
        return 0;
    }

    /// <summary>The paper as PDF; without one, why there is none, in words.</summary>
    /// <param name="services">The stores.</param>
    /// <param name="order">The order.</param>
    /// <param name="kind">customer, parts, bench or invoice.</param>
    /// <param name="paper">letter or a4; null for the shop's own.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<(byte[]? Pdf, string Why)> PaperAsync(IServiceProvider services, RepairOrder order, string kind, string? paper, CancellationToken cancel)
    {
        var settings = await services.GetRequiredService<ShopStore>().GetAsync(cancel) ?? new ShopSettings();
        var size = PaperSizes.Parse(paper ?? settings.Paper).Value;
        var maker = new PaperMaker(Knowledge.Shipped, services.GetRequiredService<TimeProvider>(), services.GetRequiredService<ShopLogo>());
        var bytes = kind switch
        {
            "customer" => maker.CustomerReport(order, settings, await new PhotosForPaper(services.GetRequiredService<PhotoStore>()).OfAsync(order, cancel), size),
            "invoice" => maker.Invoice(order, settings, size),
            "bench" => maker.BenchSheet(order, settings, size, blank: order.Readings.IsEmpty),
            "parts" => maker.PartsList(order, settings, size),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such paper."),
        };
        return (bytes, bytes is not null ? "" : kind switch
        {
            "bench" => $"Order {order.Number} has no engine yet, and the sheet has a column a cylinder. Choose the engine on the order first.",
            "invoice" => $"Order {order.Number} has nothing to bill yet: no line of its estimate is approved. Write the lines and what the customer said on the order first.",
            _ => $"Order {order.Number} has no finding yet, so there are no parts to list. Take one over in the workup first.",
        });
    }

    private static async Task<int> WrongAsync(string message)
    {
        await Console.Error.WriteLineAsync(message);
        return BadInput;
    }
}
