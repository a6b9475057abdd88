using System.Text.Json;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Charts;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Owner;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;
using ShopDiag.Web.Tests.Verbs;

namespace ShopDiag.Web.Tests.Owner;

/// <summary>The owner's figures of the demo shop: page, verb and file.</summary>
public sealed class OwnerFiguresTests : BunitContext, IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-owner-").FullName;

    private ActingAs Acting { get; } = new();

    public async ValueTask InitializeAsync()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddLogging().AddShopStorage(_folder).AddSingleton(Knowledge.Shipped).AddSingleton(TimeProvider.System)
            .AddScoped<CommandJournal>().AddScoped<DraftReplay>().AddScoped<Tablet>().AddOrderPages().AddSingleton<IActing>(Acting);
        await Services.OpenShopAsync();
        await Services.GetRequiredService<ShopStore>().LoadDemoAsync();
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await DisposeAsync();
        Directory.Delete(_folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task The_page_shows_the_groups_the_charts_with_their_tables_and_opens_the_orders()
    {
        var page = Render<OwnerPage>();
        page.WaitForElement("#ow-groups", TimeSpan.FromSeconds(30));
        var report = await ReportAsync(Grouping.Diagnosis);
        Assert.NotEmpty(report.Figures.Groups);
        Assert.Equal(report.Figures.Groups.Length, page.FindAll("section[aria-labelledby=ow-groups] > .ow-wide tbody tr").Count);
        Assert.All(page.FindAll("svg[role=img]"), svg => Assert.NotEmpty(svg.GetAttribute("aria-label")!));
        Assert.Equal(2, page.FindAll("figure.ch details table").Count);
        var first = report.Figures.Groups[0];
        Assert.Equal(
            [$"/owner/orders?by=diagnosis&list=repairs&group={first.Key}", $"/owner/orders?by=diagnosis&list=repairs&group={first.Key}&became=cameback"],
            page.FindAll("section[aria-labelledby=ow-groups] > .ow-wide tbody tr")[0].QuerySelectorAll("a").Take(2).Select(a => a.GetAttribute("href")));
    }

    [Fact]
    public async Task Every_figure_that_links_opens_a_list_with_orders_in_it()
    {
        foreach (var by in OwnerWords.Offered)
        {
            foreach (var distance in new[] { false, true })
            {
                Services.GetRequiredService<Microsoft.AspNetCore.Components.NavigationManager>().NavigateTo(OwnerLinks.To("/owner", new(by, null, null, OverDistance: distance)));
                using var page = Render<OwnerPage>();
                page.WaitForElement("#ow-open", TimeSpan.FromSeconds(30));
                var report = await ReportAsync(by, distance);
                var links = page.FindAll("a.ow-figure").Select(a => a.GetAttribute("href")!).Distinct().ToArray();
                Assert.NotEmpty(links);
                Assert.All(links, link => Assert.NotEmpty(OwnerLists.Of(report, Ask(link), Knowledge.Shipped)));
            }
        }
    }

    [Fact]
    public async Task A_list_says_what_was_repaired_what_became_of_it_and_on_which_order_it_came_back()
    {
        var report = await ReportAsync(Grouping.All);
        var rows = OwnerLists.Of(report, new(OwnerListKind.Repairs, Became: Standing.CameBack), Knowledge.Shipped);
        Assert.Equal([(1004, 1010), (1002, 1007)], rows.Select(r => (r.Number, r.Return!.Value)));
        Assert.Contains("Ignition coil failed, cylinder 5", rows[1].About, StringComparison.Ordinal);
        // The demo shop counts in hours back from now: from 979 to 75 of them are 37 or 38 days of the calendar, by the hour of the day.
        Assert.Matches("^came back within the window after 3[78] days, about 1,", rows[1].Became);
        Assert.Equal("repairs, came back within the window", OwnerLists.Title(report, new(OwnerListKind.Repairs, Became: Standing.CameBack), Knowledge.Shipped));
    }

    [Fact]
    public void The_list_page_shows_the_orders_and_a_way_back()
    {
        Services.GetRequiredService<Microsoft.AspNetCore.Components.NavigationManager>().NavigateTo("/owner/orders?by=diagnosis&from=2020-01-01&list=repairs&group=coil-failed");
        var page = Render<OwnerOrdersPage>();
        page.WaitForElement("tbody tr", TimeSpan.FromSeconds(30));
        Assert.Equal("Ignition coil failed: repairs", page.Find("h1").TextContent);
        Assert.Equal(["/orders/1002", "/orders/1007", "/orders/1001"], page.FindAll("tbody a").Select(a => a.GetAttribute("href")));
        Assert.Equal("/owner?by=diagnosis&from=2020-01-01", page.Find(".page-head a").GetAttribute("href"));
    }

    [Fact]
    public async Task A_technician_sees_the_figures_of_the_orders_with_his_name_and_no_others()
    {
        Acting.Current = ActingAs.Somebody("Lena", PersonRole.Technician);
        var page = Render<MyFiguresPage>();
        page.WaitForElement("#ow-groups", TimeSpan.FromSeconds(30));
        var report = await OwnerReport.ReadAsync(Store, await SettingsAsync(), TimeProvider.System, new(Grouping.Diagnosis, null, null, "lena"));
        Assert.Equal(2, report.Figures.All.Repairs);
        Assert.All(report.Followed.All, f => Assert.Equal("Lena", f.Case.Technician));
        Assert.Equal(report.Figures.Groups.Length, page.FindAll("section[aria-labelledby=ow-groups] > .ow-wide tbody tr").Count);
        Assert.Empty(page.FindAll("#ow-open"));
        Assert.All(page.FindAll("a.ow-figure"), a => Assert.Contains("&who=", a.GetAttribute("href"), StringComparison.Ordinal));
        Assert.DoesNotContain(page.FindAll("#ow-by option"), o => o.GetAttribute("value") == "technician");
        foreach (var blame in new[] { "fault of", "mistake", "blame", "bad work", "careless" })
        {
            Assert.DoesNotContain(blame, page.Markup, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public void A_technician_who_asks_for_the_orders_of_all_sees_his_own()
    {
        Acting.Current = ActingAs.Somebody("Lena", PersonRole.Technician);
        Services.GetRequiredService<Microsoft.AspNetCore.Components.NavigationManager>().NavigateTo("/owner/orders?by=all&list=repairs&who=Marco");
        var page = Render<OwnerOrdersPage>();
        page.WaitForElement("tbody tr", TimeSpan.FromSeconds(30));
        Assert.All(page.FindAll("tbody tr"), row => Assert.Contains("Lena", row.TextContent, StringComparison.Ordinal));
        Assert.StartsWith("/me/figures?", page.Find(".page-head a").GetAttribute("href"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_paper_shows_what_the_page_shows()
    {
        var paper = OwnerPaper.Of(await ReportAsync(Grouping.Technician), await SettingsAsync(), Knowledge.Shipped);
        var rows = paper.Sections[0].Tables[0].Rows;
        Assert.Equal(["Lena (small numbers)", "Marco (small numbers)", "Sam (small numbers)"], rows.Select(r => r.Cells[0]).Order(StringComparer.Ordinal));
        Assert.Equal(["By technician", "Right at the first go", "Bench minutes to the proof", "Parts fitted without proof", "Hours of diagnosis", "Open orders by age"], paper.Sections.Select(s => s.Heading));
        Assert.Equal(["Rate of comebacks", "Share of repairs still good"], paper.Sections[0].Charts.Select(c => c.Title));
        Assert.All(paper.Sections[0].Charts, c => Assert.NotEmpty(c.Lines));
    }

    [Fact]
    public async Task The_verb_writes_the_paper()
    {
        var file = Path.Combine(_folder, "figures.pdf");
        var (code, output, errors) = await Shell.RunAsync("", "comebacks", "--by", "technician", "--pdf", file, "--paper", "a4", "--data", _folder);
        Assert.Equal((0, "", ""), (code, output, errors));
        Assert.Equal("%PDF"u8.ToArray(), (await File.ReadAllBytesAsync(file))[..4]);
    }

    [Theory]
    [InlineData(0, ", no car left to watch")]
    [InlineData(1, ", from a single car watched that long")]
    [InlineData(9, ", from only 9 cars watched that long")]
    [InlineData(10, "")]
    public void A_share_says_on_how_few_it_rests_in_words_that_read_well(int cars, string words) =>
        Assert.Equal("50.0 % (40.0 % to 60.0 %)" + words, OwnerWords.Good(new(30, new(30, cars, 0.5, 0.1, new(0.4, 0.6)))));

    [Fact]
    public async Task The_verb_counts_while_the_shop_is_served()
    {
        var (code, output, errors) = await Shell.RunAsync("", "comebacks", "--by", "all", "--data", _folder);
        Assert.Equal((0, ""), (code, errors));
        var line = JsonDocument.Parse(output).RootElement;
        var report = await ReportAsync(Grouping.All);
        Assert.Equal((report.Figures.All.Repairs, report.Figures.All.Comebacks), (line.GetProperty("repairs").GetInt32(), line.GetProperty("comebacks").GetInt32()));
        Assert.Equal([(1002, 1007), (1004, 1010)], line.GetProperty("comebackOrders").EnumerateArray().Select(c => (c.GetProperty("repair").GetInt32(), c.GetProperty("return").GetInt32())));
    }

    [Fact]
    public async Task A_technicians_name_is_no_formula_in_the_file()
    {
        var orders = Services.GetRequiredService<OrderStore>();
        var order = (await orders.GetByNumberAsync(1002))!;
        await orders.SetFieldAsync(order.Id, OrderField.Technician, "=HYPERLINK(\"x\")", null, Guid.NewGuid(), "Rosa");
        var file = OwnerCsv.Write(await ReportAsync(Grouping.Technician), Knowledge.Shipped);
        Assert.Contains("\"'=HYPERLINK(\"\"x\"\")\",\"1\",\"1\"", file, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_on_a_chart_are_text_and_never_markup()
    {
        var chart = RateBarChart.Layout("Rate", [new("<b>Ann", 1, 20)], new(900, 360, 15));
        Assert.Contains("&lt;b&gt;Ann</text>", ChartSvg.Inside(chart, "x"), StringComparison.Ordinal);
    }

    private ComebackStore Store => Services.GetRequiredService<ComebackStore>();

    private async Task<ShopSettings> SettingsAsync() => (await Services.GetRequiredService<ShopStore>().GetAsync())!;

    private async Task<OwnerReport> ReportAsync(Grouping by, bool distance = false) =>
        await OwnerReport.ReadAsync(Store, await SettingsAsync(), TimeProvider.System, new(by, null, null, OverDistance: distance));

    // As the page of lists reads its address.
    private static OwnerListAsk Ask(string link)
    {
        var query = System.Web.HttpUtility.ParseQueryString(new Uri(new Uri("http://shop"), link).Query);
        return OwnerListAsk.Read(query["list"], query["group"], query["became"], query["at"] is { } at ? int.Parse(at, System.Globalization.CultureInfo.InvariantCulture) : null);
    }
}
