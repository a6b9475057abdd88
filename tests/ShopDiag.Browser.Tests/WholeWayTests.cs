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
    public async Task From_an_empty_data_folder_over_proof_yes_and_parts_to_a_checked_repair_and_its_papers()
    {
        await using var server = await ShopServer.StartAsync();
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;

        await StartShopAsync(tab, server);
        var number = await page.NewOrderAsync();
        await WriteUpAsync(page);
        await ProveTheCoilAsync(tab, number);
        await CheckPapersAsync(tab, number);
        await SayYesAsync(tab, number);
        await PartsComeAsync(tab, number);
        await RepairAsync(tab, number);
        await HandOverAsync(tab, number);
        tab.HasNothingToComplainOf();
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

    /// <summary>The customer wants what is needed now and not what is advised, and signs.</summary>
    private static async Task SayYesAsync(Tab tab, int number)
    {
        var page = tab.Page;
        await StepAsync(tab, number, "The finding goes to the customer", "Finding with the customer");
        await tab.OpenAsync($"/orders/{number}/estimate");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Needed now", Exact = true })).ToBeVisibleAsync();
        await page.AddPartAsync("Air filter", "18.40");
        await page.ChooseAsync("When", "Advised", "Advised");
        await Expect(page.Locator("section[aria-labelledby='est-Advised']")).ToContainTextAsync("Air filter");
        await page.PriceAllAsync();
        await page.SignAsync(Customer, refused: "Air filter");
        await Expect(page.GetByRole(AriaRole.Img, new() { Name = $"Signature of {Customer}" })).ToBeVisibleAsync();
        await StepAsync(tab, number, "The customer said yes: get the parts", "Approved, parts on their way");
    }

    private static async Task PartsComeAsync(Tab tab, int number)
    {
        var page = tab.Page;
        await tab.OpenAsync("/parts");
        await Expect(page.Locator("main")).ToContainTextAsync("Ignition coil");
        await Expect(page.Locator("main")).Not.ToContainTextAsync("Air filter");
        await AllAsync(page, "Ordered: ");
        await AllAsync(page, "Received: ");
        await StepAsync(tab, number, "Parts are here: start the repair", "In repair");
        await tab.OpenOrderAsync(number, "parts");
        await AllAsync(page, "Fitted: ");
        await Expect(page.Locator("#part-parts")).ToContainTextAsync("fitted");
    }

    /// <summary>The balance again: the fourth pulls like the others.</summary>
    private static async Task RepairAsync(Tab tab, int number)
    {
        var page = tab.Page;
        await StepAsync(tab, number, "Repaired: check it", "Repaired, being checked");
        await tab.OpenAsync($"/orders/{number}/workup");
        await page.SheetIsThereAsync();
        // The workup says what to take again.
        await Expect(page.Locator("#wk-next-title")).ToContainTextAsync("Power balance");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start", Exact = true }).TapAsync();
        await Expect(page.Entry().Locator(".wk-field :focus")).ToBeAttachedAsync();
        await page.TypeAsync("702\n640\n" + "701\n642\n" + "703\n639\n" + "700\n641\n" + "702\n641\n" + "701\n638\n");
        await Expect(page.Cell("power-balance:c4+after")).ToContainTextAsync("contributing");
    }

    private static async Task HandOverAsync(Tab tab, int number)
    {
        await tab.OpenOrderAsync(number, "check");
        await Expect(tab.Page.Locator("#part-check")).ToContainTextAsync("good");
        await StepAsync(tab, number, "Checked: ready for the customer", "Ready for the customer");
        await StepAsync(tab, number, "Hand over", "Handed over");
        var invoice = await PaperAsync(tab, "Invoice (PDF)");
        Assert.Contains("Ignition coil", invoice, StringComparison.Ordinal);
        Assert.Contains(Customer, invoice, StringComparison.Ordinal);
        Assert.Matches("(?i)after", invoice);
        // What was not wanted is not billed.
        Assert.DoesNotContain("18.40", invoice, StringComparison.Ordinal);
    }

    private static async Task StepAsync(Tab tab, int number, string step, string stands)
    {
        await tab.OpenOrderAsync(number, "progress");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = step, Exact = true }).TapAsync();
        await Expect(tab.Page.Locator(".moves")).ToContainTextAsync($"{stands}:");
    }

    private static async Task AllAsync(IPage page, string step)
    {
        var buttons = page.GetByRole(AriaRole.Button, new() { NameRegex = new($"^{step}") });
        await Expect(buttons.First).ToBeVisibleAsync();
        while (await buttons.CountAsync() is > 0 and var left)
        {
            await buttons.First.TapAsync();
            await Expect(buttons.Nth(left - 1)).ToHaveCountAsync(0);
        }
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
