using System.Text.Json;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Charts;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Owner;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Verbs;

namespace ShopDiag.Web.Tests.Owner;

/// <summary>The owner's figures of the demo shop: page, verb and file.</summary>
public sealed class OwnerFiguresTests : BunitContext, IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-owner-").FullName;

    public async ValueTask InitializeAsync()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddLogging().AddShopStorage(_folder).AddSingleton(Knowledge.Shipped).AddSingleton(TimeProvider.System)
            .AddScoped<CommandJournal>().AddScoped<DraftReplay>().AddScoped<Tablet>().AddOrderPages();
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
        var behind = page.FindAll("section[aria-labelledby=ow-groups] > .ow-wide .ow-behind")[0];
        Assert.Empty(behind.QuerySelectorAll("a"));
        await behind.TriggerEventAsync("ontoggle", EventArgs.Empty);
        var numbers = report.Numbers(report.Figures.Groups[0].RepairOrders);
        Assert.Equal(numbers.Select(n => $"/orders/{n}"), page.FindAll("section[aria-labelledby=ow-groups] > .ow-wide .ow-behind")[0].QuerySelectorAll("a").Select(a => a.GetAttribute("href")));
    }

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

    private async Task<OwnerReport> ReportAsync(Grouping by) => await OwnerReport.ReadAsync(
        Services.GetRequiredService<ComebackStore>(), (await Services.GetRequiredService<ShopStore>().GetAsync())!, TimeProvider.System, new(by, null, null));
}
