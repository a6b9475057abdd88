using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.KeepingViews;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Keeping;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Keeping;

public sealed class BackupsPageTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
        Services.AddLogging().AddSingleton(_shop.Backups).AddSingleton(_shop.Customers).AddSingleton(_shop.Trouble).AddSingleton<BackupDesk>().AddSingleton<NightlyWork>().AddSingleton<ConnectedTablets>();
        Services.AddSingleton(new RunningNow(_shop.Folder, _shop.Backups, _shop.Time));
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await DisposeAsync();
        await _shop.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task A_backup_is_made_put_back_after_a_second_touch_and_that_undone()
    {
        var order = await _shop.NewOrderAsync((OrderField.VehiclePlate, "BEFORE"));
        var page = Render<BackupsPage>();
        Assert.Contains("There is no backup yet", page.Markup, StringComparison.Ordinal);
        page.Act(p => p.Find(".button-big").Click());
        page.WaitForAssertion(() => Assert.Contains("made and checked", page.Find("#bk-outcome").TextContent, StringComparison.Ordinal));
        Assert.Single(page.FindAll(".bk-backup"));

        await _shop.Orders.SetFieldAsync(order.Id, OrderField.VehiclePlate, "AFTER", null, Guid.NewGuid(), "Ann");
        page.Act(p => p.Find(".bk-backup button").Click());
        Assert.Equal("AFTER", (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Plate);
        page.Act(p => p.Find(".bk-backup .button-main").Click());
        page.WaitForAssertion(() => Assert.Contains("put that one back to undo", page.Find("#bk-outcome").TextContent, StringComparison.Ordinal));
        Assert.Equal("BEFORE", (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Plate);

        Assert.Contains("Before another was put back", page.FindAll(".bk-backup")[0].TextContent, StringComparison.Ordinal);
        page.Act(p => p.Find(".bk-backup button").Click());
        page.Act(p => p.Find(".bk-backup .button-main").Click());
        page.WaitForAssertion(() => Assert.Equal(3, page.FindAll(".bk-backup").Count));
        Assert.Equal("AFTER", (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Plate);
    }

    [Fact]
    public void What_went_wrong_is_said_in_words()
    {
        File.WriteAllText(_shop.Backups.Folder, "in the way");
        var page = Render<BackupsPage>();
        page.Act(p => p.Find(".button-big").Click());
        page.WaitForAssertion(() => Assert.Contains("It did not work", page.Find("#bk-outcome").TextContent, StringComparison.Ordinal));
        File.Delete(_shop.Backups.Folder);
    }

    [Fact]
    public async Task A_customer_is_found_and_erased_after_a_second_touch()
    {
        var order = await _shop.NewOrderAsync((OrderField.CustomerName, "Ada Quillfeather"));
        await _shop.Orders.MoveAsync(order.Id, OrderStage.HandedOver, "Ann", "done", Guid.NewGuid());
        var page = Render<CustomersPage>();
        page.Act(p => p.Find("#cu-text").Change("quill"));
        page.Act(p => p.Find("form").Submit());
        page.WaitForAssertion(() => Assert.Contains("Ada Quillfeather", page.Find(".bk-backup").TextContent, StringComparison.Ordinal));
        page.Act(p => p.Find(".bk-backup button").Click());
        Assert.Equal("Ada Quillfeather", (await _shop.Orders.GetAsync(order.Id))!.Customer.Name);
        page.Act(p => p.Find(".bk-backup .button-main").Click());
        page.WaitForAssertion(() => Assert.Contains("Nobody is found", page.Markup, StringComparison.Ordinal));
        Assert.Equal("Erased customer", (await _shop.Orders.GetAsync(order.Id))!.Customer.Name);
    }

    [Fact]
    public void How_it_runs_is_said_with_the_folder_the_version_and_the_tablets()
    {
        Services.GetRequiredService<ConnectedTablets>().Set("a", () => "Rosa", Time.GetUtcNow().UtcDateTime, true);
        var page = Render<RunningPage>();
        Assert.Equal((_shop.Folder, RunningNow.Version, "1", "Yes"), (Text("#rn-folder"), Text("#rn-version"), Text("#rn-tablets"), Text("#rn-saving")));
        Assert.Contains("Rosa", page.Markup, StringComparison.Ordinal);
        Assert.Matches("[0-9] [GM]B", Text("#rn-room"));

        string Text(string of) => page.Find(of).TextContent.Trim();
    }

    [Fact]
    public void A_disk_that_takes_nothing_is_said_above_the_page_and_the_journal_sends_when_it_does_again()
    {
        var page = Render<StorageBanner>();
        Assert.Equal("", page.Markup.Trim());
        _shop.Trouble.Note(new Microsoft.Data.Sqlite.SqliteException("full", 13));
        page.WaitForAssertion(() => Assert.Contains("is full", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        _shop.Trouble.Note(null);
        page.WaitForAssertion(() => Assert.Equal("", page.Markup.Trim()));
        page.WaitForAssertion(() => JSInterop.VerifyInvoke("journal.connectionBack"));
    }
}
