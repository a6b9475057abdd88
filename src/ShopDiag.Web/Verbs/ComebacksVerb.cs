using System.CommandLine;
using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Wire;
using ShopDiag.Diagnosis;
using ShopDiag.Reports;
using ShopDiag.Storage;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Owner;

namespace ShopDiag.Web.Verbs;

/// <summary><c>comebacks [--by diagnosis] [--from DAY] [--to DAY] [--technician NAME] [--pdf FILE [--paper a4] [--distance]]</c>: the owner's figures as lines of JSON, a group a line, or on paper.</summary>
internal static class ComebacksVerb
{
    public static Command Create(Option<string?> data)
    {
        var by = new Option<string>("--by") { Description = "By what repairs are put together.", DefaultValueFactory = _ => OwnerFiguresJson.Word(Grouping.Diagnosis) };
        by.AcceptOnlyFromAmong([.. Enum.GetValues<Grouping>().Select(OwnerFiguresJson.Word)]);
        var from = Day("--from", "First day of hand-over, such as 2026-01-01; otherwise all before.");
        var to = Day("--to", "Last day of hand-over; otherwise all since.");
        var who = new Option<string?>("--technician") { Description = "Only the repairs of one technician, by the name on the orders." };
        var pdf = new Option<string?>("--pdf") { Description = "Write them on paper to this file instead." };
        var paper = new Option<string?>("--paper") { Description = "letter or a4; otherwise the shop's own." };
        paper.AcceptOnlyFromAmong("letter", "a4");
        var distance = new Option<bool>("--distance") { Description = "On paper, say how many are still good after a distance and not after days." };
        var command = new Command("comebacks", "Count repairs and comebacks of a shop, also while it is being served.") { by, from, to, who, pdf, paper, distance };
        command.SetAction((parsed, cancel) => RunAsync(
            DataFolder.Resolve(parsed.GetValue(data)),
            new(OwnerFiguresJson.Read(parsed.GetRequiredValue(by))!.Value, parsed.GetValue(from), parsed.GetValue(to), parsed.GetValue(who), parsed.GetValue(distance)),
            parsed.GetValue(pdf),
            parsed.GetValue(paper),
            cancel));
        return command;
    }

    private static Option<DateOnly?> Day(string name, string description) => new(name)
    {
        Description = description,
        CustomParser = result =>
        {
            if (DateOnly.TryParseExact(result.Tokens[0].Value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            {
                return day;
            }

            result.AddError($"{name} is a day such as 2026-01-31, not '{result.Tokens[0].Value}'.");
            return null;
        },
    };

    private static async Task<int> RunAsync(string folder, OwnerAsks asks, string? pdf, string? paper, CancellationToken cancel)
    {
        await using var services = new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System).AddShopStorage(folder).BuildServiceProvider();
        await services.OpenShopForReadingAsync(cancel);
        var settings = await services.GetRequiredService<ShopStore>().GetAsync(cancel) ?? new ShopSettings();
        var report = await OwnerReport.ReadAsync(services.GetRequiredService<ComebackStore>(), settings, TimeProvider.System, asks, cancel);
        if (pdf is not null)
        {
            await File.WriteAllBytesAsync(pdf, Reports.Papers.FigureReport(OwnerPaper.Of(report, settings, Knowledge.Shipped, services.GetRequiredService<ShopLogo>().Read()), PaperSizes.Parse(paper ?? settings.Paper).Value), cancel);
            return 0;
        }

        foreach (var line in OwnerFiguresJson.Lines(report.Figures))
        {
            await Console.Out.WriteLineAsync(line);
        }

        return 0;
    }
}
