using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class WholeWayTests(Chromium chromium)
{
    private const string Customer = "Maud Fenwick";
    private const string Phone = "555 0147";
    private const string Plate = "KRT 482";

    // Position 9 holds the check digit; by the rule it would be 2 here.
    private const string MistypedVin = "1HGCM82633A004353";

    [Fact]
    public async Task From_an_empty_data_folder_to_a_proven_cause_and_both_papers()
    {
        await using var server = await ShopServer.StartAsync();
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;

        await StartShopAsync(tab, server);
        var number = await page.NewOrderAsync();
        await WriteUpAsync(page);
        await ProveTheCoilAsync(tab, number);
        await CheckPapersAsync(tab, number);
        Assert.Empty(tab.Complaints);
        Assert.DoesNotContain("fail:", server.Log, StringComparison.Ordinal);
    }

    private static async Task StartShopAsync(Tab tab, ShopServer server)
    {
        var page = tab.Page;
        await tab.SetUpAsync(server);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start my shop" }).TapAsync();
        await page.WriteAsync("Name of the shop", "Hollow Lane Motors");
        await page.GetByText("To the open orders").TapAsync();
        await Expect(page.GetByText("No car is in the building.")).ToBeVisibleAsync();
    }

    private static async Task WriteUpAsync(IPage page)
    {
        await page.WriteAsync("Plate", Plate);
        await page.WriteAsync("VIN", MistypedVin);
        // Warned, not refused: the number is saved as it stands on the car's papers.
        await Expect(page.GetByText("check digit in position 9")).ToBeVisibleAsync();
        await page.WriteAsync("Make and model", "Corvale Wagon 3.0");
        await page.PickEngineAsync("V6 coil on plug transverse", "bank 2 covered");
        await page.WriteAsync("Name", Customer);
        await page.WriteAsync("Telephone", Phone);
        await page.WriteAsync("In the customer's words", "Shakes at the lights since Monday");
        await page.ChooseAsync("Warning lamp", "Lit steadily", "Steady");
        await page.ChooseAsync("When it happens", "At idle", "idle");
        await page.WriteAsync("Trouble codes", "P0304");
    }

    private static async Task ProveTheCoilAsync(Tab tab, int number)
    {
        var page = tab.Page;
        await page.OpenPartAsync("Workup");
        await page.GetByText("Open the workup").TapAsync();
        await page.SheetIsThereAsync();

        // In bank order 1 3 5, 2 4 6; every cylinder drops some 60 revolutions but the fourth.
        await page.OpenCellAsync("power-balance:c1");
        await page.TypeAsync("702\n640\n" + "701\n642\n" + "703\n639\n" + "700\n641\n" + "702\n700\n" + "701\n638\n");
        await Expect(page.Cell("power-balance:c6")).ToContainTextAsync("contributing");
        await Expect(page.Cell("power-balance:c4")).ToContainTextAsync("dead");
        await Expect(page.Locator("[data-cell^=\"power-balance:c\"] .wk-figure")).ToHaveCountAsync(6);

        await page.OpenCellAsync("spark-output:c4");
        await page.TouchChoiceAsync("None");
        await Expect(page.Cell("spark-output:c4")).ToContainTextAsync("none");
        await page.OpenCellAsync("coil-feed:c4");
        await page.TypeAsync("12.4\n");
        await Expect(page.Cell("coil-feed:c4")).ToContainTextAsync("good");
        await page.OpenCellAsync("coil-control:c4");
        await page.TouchChoiceAsync("Present");

        await Expect(page.Locator("#wk-proven-title")).ToContainTextAsync("Ignition coil failed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take over as finding" }).TapAsync();
        await Expect(page.Locator("#wk-taken-title")).ToContainTextAsync("Ignition coil failed");
        await page.GetByText("On to the order and its papers").TapAsync();
        await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex($"/orders/{number}(\\?|$)"));
    }

    private static async Task CheckPapersAsync(Tab tab, int number)
    {
        await tab.Page.OpenPartAsync("Finding");
        var customer = await PaperAsync(tab, "Paper for the customer (PDF)");
        var parts = await PaperAsync(tab, "Parts list for the counter (PDF)");
        foreach (var text in new[] { customer, parts })
        {
            Assert.Contains($"{number}", text, StringComparison.Ordinal);
            Assert.Contains(MistypedVin, text, StringComparison.Ordinal);
            Assert.Contains("Ignition coil", text, StringComparison.Ordinal);
            Assert.Matches("(?i)cylinder 4", text);
        }

        Assert.Contains(Plate, customer, StringComparison.Ordinal);
        Assert.Contains(Customer, customer, StringComparison.Ordinal);
        Assert.Contains("no longer makes a spark", customer, StringComparison.Ordinal);
        // The counter needs nothing that leads to the customer, and the plate does.
        Assert.DoesNotContain(Plate, parts, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("Fenwick", parts, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("0147", parts, StringComparison.Ordinal);
    }

    private static async Task<string> PaperAsync(Tab tab, string link)
    {
        var address = await tab.Page.GetByText(link).GetAttributeAsync("href");
        var answer = await tab.Context.APIRequest.GetAsync(address!);
        Assert.True(answer.Ok, $"{address}: {answer.Status}");
        Assert.Equal("application/pdf", answer.Headers["content-type"]);
        return PaperText.Of(await answer.BodyAsync());
    }
}
