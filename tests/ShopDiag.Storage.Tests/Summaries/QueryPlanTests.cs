using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Summaries;

/// <summary>
/// What the lists, the search, the figures and the writes ask of the database goes by indexes: with a shop's growth they must not read whole tables. The statements are the ones that are sent,
/// heard as they go; SQLite says how it would run them.
/// </summary>
public sealed partial class QueryPlanTests
{
    // Tables that grow with the shop. Cases is read whole by the figures, on purpose: it is there for that.
    private static readonly string[] Growing = ["Orders", "Customers", "Vehicles", "Readings", "Findings", "StageMoves", "Parts", "AppliedCommands", "ProvenDiagnoses", "Estimates", "Approvals", "Photos", "Recordings", "Cases"];

    [Fact]
    public async Task Nothing_that_is_asked_every_day_reads_a_whole_table()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1007))!;
        foreach (var (name, ask) in Questions(shop, order))
        {
            using var heard = new SqlHeard(shop.Folder);
            await ask();
            Assert.NotEmpty(heard.Statements);
            Assert.All(heard.Statements, sql => Assert.All(shop.Plan(sql), step => Assert.False(IsWholeTable(step, sql), $"{name}: {step}\nin\n{sql}")));
        }
    }

    [Fact]
    public async Task The_figures_read_the_cases_and_no_other_table_whole()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        using var heard = new SqlHeard(shop.Folder);
        await shop.Services.GetRequiredService<ComebackStore>().CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual);
        Assert.All(heard.Statements, sql => Assert.All(shop.Plan(sql), step => Assert.False(IsWholeTable(step, sql), $"{step}\nin\n{sql}")));
        Assert.Equal(["SCAN Cases"], shop.Plan(CaseReader.Everything));
        Assert.Equal("SEARCH Cases USING INDEX IX_Cases_VehicleId (VehicleId=?)", shop.Plan(CaseReader.OfOneVehicle)[0]);
    }

    [Fact]
    public async Task A_search_goes_by_the_index_of_three_signs_and_comes_newest_first_without_sorting()
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Matches(@"^SCAN OrderSearch VIRTUAL TABLE INDEX \d+:M", Assert.Single(shop.Plan("SELECT rowid AS Value FROM OrderSearch WHERE OrderSearch MATCH 'x' ORDER BY rowid DESC LIMIT 50")));
    }

    [Fact]
    public async Task A_whole_table_would_be_noticed()
    {
        await using var shop = await TestShop.OpenAsync();
        const string Sql = "SELECT * FROM Orders AS o WHERE o.Stage <> 'HandedOver'";
        Assert.Contains(shop.Plan(Sql), step => IsWholeTable(step, Sql));
    }

    private static IEnumerable<(string Name, Func<Task> Ask)> Questions(TestShop shop, RepairOrder order)
    {
        var comebacks = shop.Services.GetRequiredService<ComebackStore>();
        yield return ("open orders", () => shop.Orders.OpenOrdersAsync());
        yield return ("search", () => shop.Orders.FindAsync("pike p0351"));
        yield return ("known car", () => shop.Orders.KnownVehiclesAsync("QHV 2093"));
        yield return ("order with a comeback behind it", () => shop.Orders.GetAsync(order.Id));
        yield return ("cases of a car", () => comebacks.OfVehicleAsync(order.Vehicle.Id, TimeZoneInfo.Utc));
        yield return ("open orders by age", () => comebacks.OpenOrdersAsync(TimeZoneInfo.Utc));
        yield return ("new order", shop.OpenOrderAsync);
        yield return ("field", () => shop.SetAsync(order, OrderField.ConcernText, "It shakes."));
        yield return ("customer", () => shop.SetAsync(order, OrderField.CustomerName, "Ida"));
        yield return ("reading", () => shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(1, 1200)));
        yield return ("finding", () => shop.Orders.SetFindingAsync(order.Id, null, Guid.NewGuid()));
        yield return ("move", () => shop.Orders.MoveAsync(order.Id, OrderStage.HandedOver, "Rosa", "why", Guid.NewGuid()));
        yield return ("answer", () => comebacks.AnswerComebackAsync(order.Id, null, ComebackAnswer.No, "Rosa", Guid.NewGuid()));
    }

    // "SCAN o" with or without a covering index reads all of it; a step names the alias, and the statement says which table that is.
    private static bool IsWholeTable(string step, string sql)
    {
        // As good as the whole: most parts are fitted ones.
        if (step.Contains("IX_Parts_State", StringComparison.Ordinal))
        {
            return true;
        }

        if (Scan().Match(step) is not { Success: true } scan)
        {
            return false;
        }

        var alias = scan.Groups[1].Value;
        var table = Regex.Match(sql, $"""(?:FROM|JOIN|UPDATE|INTO)\s+"?(\w+)"?\s+(?:AS\s+)?"?{alias}"?\b""") is { Success: true } named ? named.Groups[1].Value : alias;
        return Growing.Contains(table);
    }

    [GeneratedRegex(@"^SCAN (\w+)\b(?! VIRTUAL)")]
    private static partial Regex Scan();
}
