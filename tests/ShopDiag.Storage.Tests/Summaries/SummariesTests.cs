using System.Collections.Immutable;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Summaries;

/// <summary>What is kept of each order for counting and finding stays in step with the order.</summary>
public sealed class SummariesTests
{
    private static ComebackStore Store(TestShop shop) => shop.Services.GetRequiredService<ComebackStore>();

    private static Task<ImmutableArray<RepairCase>> CasesAsync(TestShop shop) => Store(shop).CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual);

    [Fact]
    public async Task A_shop_from_before_summaries_is_filled_when_it_is_opened()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var (cases, found) = (await CasesAsync(shop), await shop.Orders.FindAsync("coil-failed"));
        shop.Run("DELETE FROM Cases");
        Assert.Equal(0, shop.Scalar("SELECT count(*) FROM OrderSearch"));
        await Assert.ThrowsAsync<DataFolderException>(async () =>
        {
            await using var looking = TestShop.Closed(shop.Folder);
            await looking.Services.OpenShopForReadingAsync();
        });
        await shop.Services.GetRequiredService<Storage.Opening.ShopOpening>().FillAsync(CancellationToken.None);
        await using var again = TestShop.Closed(shop.Folder);
        await again.Services.OpenShopForReadingAsync();
        Assert.Equal(cases.Select(Said), (await CasesAsync(again)).Select(Said));
        Assert.Equal(found.Select(o => o.Number), (await again.Orders.FindAsync("coil-failed")).Select(o => o.Number));
    }

    [Fact]
    public async Task Figures_follow_every_command_without_reading_all_again()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        await CasesAsync(shop);
        var order = (await shop.Orders.GetByNumberAsync(1004))!;
        await shop.SetAsync(order, OrderField.Technician, "Somebody New");
        await shop.SetAsync(order, OrderField.MinutesSpent, "77");
        var opened = await shop.OpenOrderAsync();
        await shop.Orders.UseVehicleAsync(opened.Id, order.Vehicle.Id, Guid.NewGuid());
        await shop.SetAsync(opened, OrderField.Odometer, "999000");
        var cases = await CasesAsync(shop);
        var one = cases.Single(c => c.Number == 1004);
        Assert.Equal(("Somebody New", 77), (one.Technician, one.MinutesSpent));
        Assert.Equal((opened.Number, order.Vehicle.Id), (cases[^1].Number, cases[^1].VehicleId));
        Assert.Equal(cases[^1].OdometerKm, one.LastSeen!.Value.OdometerKm);
        Assert.Equal(cases.Select(c => c.Number).Order(), cases.Select(c => c.Number));
        await using var fresh = TestShop.Closed(shop.Folder);
        await fresh.Services.OpenShopForReadingAsync();
        Assert.Equal((await CasesAsync(fresh)).Select(Said), cases.Select(Said));
    }

    [Fact]
    public async Task A_new_labour_rate_and_another_zone_are_counted_anew()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var before = (await CasesAsync(shop)).First(c => c.MinutesBilled is not null);
        var settings = (await shop.Shop.GetAsync())!;
        await shop.Shop.SaveAsync(settings with { LabourPerHourMinor = 2 * settings.LabourPerHourMinor });
        var after = (await CasesAsync(shop)).Single(c => c.Number == before.Number);
        Assert.Equal(before.MinutesBilled!.Value / 2.0, after.MinutesBilled!.Value, 0.51);
        // 8:00 in Greenwich is still the evening before at 9 hours west.
        var west = TimeZoneInfo.CreateCustomTimeZone("west", TimeSpan.FromHours(-9), "west", "west");
        var here = await CasesAsync(shop);
        var days = (await Store(shop).CasesAsync(west, ComebackWindow.Usual)).Zip(here, (there, one) => there.CameInOn.DayNumber - one.CameInOn.DayNumber).ToArray();
        Assert.Contains(-1, days);
        Assert.All(days, d => Assert.InRange(d, -1, 0));
    }

    [Fact]
    public async Task An_order_that_is_removed_is_neither_counted_nor_found()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.CustomerName, "Ida Brandt");
        Assert.Single(await shop.Orders.FindAsync("brandt"));
        shop.Run("DELETE FROM AppliedCommands; DROP TRIGGER Audit_no_DELETE; DELETE FROM Audit; DROP TRIGGER StageMoves_no_DELETE; DELETE FROM StageMoves; PRAGMA foreign_keys=ON; DELETE FROM Orders");
        Assert.Empty(await shop.Orders.FindAsync("brandt"));
        Assert.Equal(0, shop.Scalar("SELECT count(*) FROM Cases"));
    }

    [Fact]
    public async Task A_changed_name_can_no_longer_be_read_in_the_file()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.CustomerName, "Zyxwvuts");
        Assert.True(shop.Scalar("SELECT count(*) FROM OrderSearch_data WHERE instr(hex(block), hex('xwv')) > 0") > 0);
        await shop.SetAsync(order, OrderField.CustomerName, "Ida");
        Assert.Equal(0, shop.Scalar("SELECT count(*) FROM OrderSearch_data WHERE instr(hex(block), hex('xwv')) > 0"));
    }

    [Theory]
    [InlineData("pike hlb", "1009")]
    [InlineData("HLB desmond", "1009")]
    [InlineData("pike p0351", "")]
    [InlineData("pi", "1012 1009")]
    [InlineData("ik", "")]
    [InlineData("HL B-53", "1009")]
    [InlineData("exhaust leaking", "1009")]
    [InlineData("10", "1017 1016 1015 1014 1013 1012 1011 1010 1009 1008 1007 1006 1005 1004 1003 1002 1001")]
    public async Task One_box_looks_for_every_word_in_all_that_an_order_is_known_by(string text, string numbers)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        Assert.Equal(numbers, string.Join(' ', (await shop.Orders.FindAsync(text)).Select(o => o.Number)));
    }

    [Fact]
    public void A_line_holds_a_case_with_everything_and_one_with_nothing()
    {
        var whole = new KeptCase
        {
            OrderId = Guid.NewGuid(), VehicleId = Guid.NewGuid(), CameIn = -5, HandedOver = 1_772_438_400, Kilometres = 160_934,
            Repaired = [new("coil-failed", Place.Cylinder(3)), new("connections-crossed", Place.Pair(1, 2))], Technician = "Lena \"Ü\"\tQuist", EngineFamily = "coil-on-plug/port/I4",
            Parts = [new("Coil, “new”", "Brindle & Vane", "", true), new("Plug", "", "Slipway", false)], ProofGiven = true, RepairChecked = false, MinutesToProof = 40.75, MinutesAuthorised = 60,
            DiagnosisPriceMinor = 14_500, MinutesSpent = 0, ComebackOf = Guid.NewGuid(), Answer = ComebackAnswer.Yes,
        };
        var read = new CaseLine().Read(CaseLine.Write(whole));
        // A tab cannot come in by any field; were one there, it becomes a blank and tears nothing.
        Assert.Equal("Lena \"Ü\" Quist", read.Technician);
        Assert.Equal(whole.Repaired, read.Repaired);
        Assert.Equal(whole.Parts, read.Parts);
        Assert.Equal(whole with { Technician = "", Repaired = [], Parts = [] }, read with { Technician = "", Repaired = [], Parts = [] });
        var nothing = new KeptCase { OrderId = Guid.NewGuid(), VehicleId = Guid.NewGuid(), CameIn = 0, Repaired = [], Technician = "", EngineFamily = "", Parts = [] };
        Assert.Equal(nothing with { Repaired = default, Parts = default }, new CaseLine().Read(CaseLine.Write(nothing)) with { Repaired = default, Parts = default });
        Assert.Throws<FormatException>(() => new CaseLine().Read("x\ty"));
    }

    private static string Said(RepairCase c) =>
        $"{c.Number} {c.OrderId} {c.VehicleId} {c.CameInOn} {c.HandedOverOn} {c.OdometerKm} {string.Join('+', c.Repaired)} {c.Technician} {c.EngineFamily} {string.Join('+', c.Parts)} {c.ProofGiven} {c.RepairChecked} {c.MinutesToProof} {c.MinutesAuthorised} {c.MinutesBilled} {c.MinutesSpent} {c.ComebackOf} {c.Answer} {c.LastSeen}";
}
