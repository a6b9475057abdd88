using System.CommandLine;
using System.CommandLine.Parsing;
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
internal sealed class ComebacksVerb
{
    private readonly Option<string> _by = new("--by") { Description = "By what repairs are put together.", DefaultValueFactory = _ => OwnerFiguresJson.Word(Grouping.Diagnosis) };
    private readonly Option<DateOnly?> _from = Day("--from", "First day of hand-over, such as 2026-01-01; otherwise all before.");
    private readonly Option<DateOnly?> _to = Day("--to", "Last day of hand-over; otherwise all since.");
    private readonly Option<string?> _who = new("--technician") { Description = "Only the repairs of one technician, by the name on the orders." };
    private readonly Option<string?> _pdf = new("--pdf") { Description = "Write them on paper to this file instead." };
    private readonly Option<string?> _paper = new("--paper") { Description = "letter or a4; otherwise the shop's own." };
    private readonly Option<bool> _distance = new("--distance") { Description = "On paper, say how many are still good after a distance and not after days." };

    public ComebacksVerb()
    {
        _by.AcceptOnlyFromAmong([.. Enum.GetValues<Grouping>().Select(OwnerFiguresJson.Word)]);
        _paper.AcceptOnlyFromAmong("letter", "a4");
    }

    /// <summary>The options of the figures as lines.</summary>
    public IReadOnlyList<Option> OfLines => [_by, _from, _to, _who];

    /// <summary>The options of the figures on paper.</summary>
    public IReadOnlyList<Option> OfPaper => [.. OfLines, _paper, _distance];

    public static Command Create(Option<string?> data) => new ComebacksVerb().Build(data);

    /// <summary>What is asked. Only for options that were found right.</summary>
    public OwnerAsks Asks(CommandResult asked) =>
        new(OwnerFiguresJson.Read(asked.GetRequiredValue(_by))!.Value, asked.GetValue(_from), asked.GetValue(_to), asked.GetValue(_who), OfDistance(asked));

    /// <summary>Reads and counts.</summary>
    public Task<OwnerReport> ReadAsync(IServiceProvider services, ShopSettings settings, CommandResult asked, CancellationToken cancel) =>
        OwnerReport.ReadAsync(services.GetRequiredService<ComebackStore>(), settings, services.GetRequiredService<TimeProvider>(), Asks(asked), cancel);

    /// <summary>The figures on paper.</summary>
    public byte[] Pdf(IServiceProvider services, ShopSettings settings, OwnerReport report, CommandResult asked) => Reports.Papers.FigureReport(
        OwnerPaper.Of(report, settings, Knowledge.Shipped, services.GetRequiredService<ShopLogo>().Read()), PaperSizes.Parse(asked.GetValue(_paper) ?? settings.Paper).Value);

    // Not among the choices of the figures as lines.
    private bool OfDistance(CommandResult asked) => asked.Command.Options.Contains(_distance) && asked.GetValue(_distance);

    private Command Build(Option<string?> data)
    {
        var command = new Command("comebacks", "Count repairs and comebacks of a shop, also while it is being served.") { _by, _from, _to, _who, _pdf, _paper, _distance };
        command.SetAction((parsed, cancel) => RunAsync(DataFolder.Resolve(parsed.GetValue(data)), parsed.CommandResult, cancel));
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

    private async Task<int> RunAsync(string folder, CommandResult asked, CancellationToken cancel)
    {
        await using var services = ShopVerb.Services(folder);
        await services.OpenShopForReadingAsync(cancel);
        var settings = await services.GetRequiredService<ShopStore>().GetAsync(cancel) ?? new ShopSettings();
        var report = await ReadAsync(services, settings, asked, cancel);
        if (asked.GetValue(_pdf) is { } pdf)
        {
            await File.WriteAllBytesAsync(pdf, Pdf(services, settings, report, asked), cancel);
            return 0;
        }

        foreach (var line in OwnerFiguresJson.Lines(report.Figures))
        {
            await Console.Out.WriteLineAsync(line);
        }

        return 0;
    }
}
