using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class TogetherTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task Two_tablets_on_one_workup_see_each_others_readings()
    {
        await using var one = await chromium.TabletAsync(shop.Url);
        await using var other = await chromium.TabletAsync(shop.Url, 800, 1280);
        await one.OpenWorkupAsync(DemoShop.WrittenUp);
        await other.OpenWorkupAsync(DemoShop.WrittenUp);

        await one.Page.OpenCellAsync("coil-feed:c1");
        await one.Page.TypeAsync("12.6\n");
        await Expect(other.Page.Cell("coil-feed:c1")).ToContainTextAsync("12.6");

        await other.Page.OpenCellAsync("injector-sound:c2");
        await other.Page.TouchChoiceAsync("Silent");
        await Expect(one.Page.Cell("injector-sound:c2")).ToContainTextAsync("silent");
        one.HasNothingToComplainOf();
        other.HasNothingToComplainOf();
    }

    [Fact]
    public async Task What_is_written_on_the_order_shows_on_the_other_tablet_and_in_the_open_orders()
    {
        await using var advisor = await chromium.TabletAsync(shop.Url);
        await using var technician = await chromium.TabletAsync(shop.Url);
        await using var wall = await chromium.TabletAsync(shop.Url);
        await advisor.OpenOrderAsync(DemoShop.InDiagnosis, "concern");
        await technician.OpenOrderAsync(DemoShop.InDiagnosis, "concern");
        await wall.OpenAsync("/orders");

        await advisor.Page.WriteAsync("Technician", "Odile Marsh");
        await Expect(technician.Page.Field("Technician")).ToHaveValueAsync("Odile Marsh");
        await Expect(wall.Page.GetByText("Odile Marsh")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Two_people_in_one_field_are_told_of_each_other_and_neither_text_is_lost()
    {
        await using var one = await chromium.TabletAsync(shop.Url);
        await using var other = await chromium.TabletAsync(shop.Url);
        await one.OpenOrderAsync(DemoShop.WrittenUp, "concern");
        await other.OpenOrderAsync(DemoShop.WrittenUp, "concern");
        using var line = new Line(new Uri(shop.Url).Port);
        await using var away = await chromium.TabletAsync(line.Url);
        await away.OpenOrderAsync(DemoShop.WrittenUp, "concern");
        line.Cut();
        await away.Page.Field("Make and model").FillAsync("Corvina as the owner says");
        await one.Page.WriteAsync("Make and model", "Corvina by the plate");
        await Expect(other.Page.Field("Make and model")).ToHaveValueAsync("Corvina by the plate");
        line.Mend();

        await Expect(away.Page.GetByText("Somebody else changed this meanwhile.")).ToContainTextAsync("Corvina by the plate");
        await away.Page.GetByText("Keep mine").TapAsync();
        await Expect(one.Page.Field("Make and model")).ToHaveValueAsync("Corvina as the owner says");
    }
}
