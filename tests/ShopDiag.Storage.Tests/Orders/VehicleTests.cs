using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class VehicleTests
{
    [Theory]
    [InlineData("QHV 2093", true)]
    [InlineData("qhv2093", true)]
    [InlineData(" q-h-v 20 93 ", true)]
    [InlineData("QHV 209", false)]
    [InlineData("00dpv6b6", false)]
    [InlineData("", false)]
    [InlineData(" - ", false)]
    public async Task A_vehicle_is_known_by_its_whole_plate(string text, bool known)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var found = await shop.Orders.KnownVehiclesAsync(text);
        Assert.Equal(known ? ["Osprel Van 3.6 of Bright Fork Bakery"] : [], found.Select(v => $"{v.Vehicle.Description} of {v.Customer.Name}"));
    }

    [Fact]
    public async Task A_vehicle_is_known_by_its_whole_identification_number()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var vin = (await shop.Orders.GetByNumberAsync(1002))!.Vehicle.Vin;
        Assert.Single(await shop.Orders.KnownVehiclesAsync(vin.ToLowerInvariant()));
    }

    [Fact]
    public async Task A_known_vehicle_and_its_customer_take_the_place_of_the_ones_being_written_up()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var (vehicles, customers) = (shop.Scalar("SELECT count(*) FROM Vehicles"), shop.Scalar("SELECT count(*) FROM Customers"));
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.VehiclePlate, "QHV 20");
        var known = Assert.Single(await shop.Orders.KnownVehiclesAsync("QHV 2093"));
        var command = Guid.NewGuid();
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.UseVehicleAsync(order.Id, known.Vehicle.Id, command)).Outcome);
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.UseVehicleAsync(order.Id, known.Vehicle.Id, command)).Outcome);
        order = await shop.ReadAsync(order);
        Assert.Equal((known.Vehicle.Id, "QHV 2093"), (order.Vehicle.Id, order.Vehicle.Plate));
        Assert.Equal("Bright Fork Bakery", order.Customer.Name);
        Assert.Equal((vehicles, customers), (shop.Scalar("SELECT count(*) FROM Vehicles"), shop.Scalar("SELECT count(*) FROM Customers")));
    }

    [Fact]
    public async Task A_vehicle_that_another_order_has_is_not_forgotten()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var comeback = (await shop.Orders.GetByNumberAsync(1016))!;
        var known = Assert.Single(await shop.Orders.KnownVehiclesAsync("QHV 2093"));
        await shop.Orders.UseVehicleAsync(comeback.Id, known.Vehicle.Id, Guid.NewGuid());
        var back = await shop.Orders.UseVehicleAsync(comeback.Id, (await shop.Orders.GetByNumberAsync(1001))!.Vehicle.Id, Guid.NewGuid());
        Assert.Equal(SaveOutcome.Saved, back.Outcome);
        Assert.Equal("QHV 2093", (await shop.Orders.GetByNumberAsync(1002))!.Vehicle.Plate);
    }

    [Fact]
    public async Task A_vehicle_whose_engine_lacks_a_cylinder_that_was_measured_is_refused()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var five = Assert.Single(await shop.Orders.KnownVehiclesAsync("MNI 310"));
        var order = (await shop.Orders.GetByNumberAsync(1014))!;
        var answer = await shop.Orders.UseVehicleAsync(order.Id, five.Vehicle.Id, Guid.NewGuid());
        Assert.Equal(SaveOutcome.Refused, answer.Outcome);
        Assert.Contains("Order 1014 has a reading at cylinder 4", answer.Message, StringComparison.Ordinal);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.UseVehicleAsync(order.Id, Guid.NewGuid(), Guid.NewGuid())).Outcome);
    }

    [Fact]
    public async Task An_engine_comes_back_as_it_was_put_in()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var engine = new EngineSpec
        {
            Layout = "V6",
            Banks = [[1, 3, 5], [2, 4, 6]],
            FiringOrder = [1, 6, 5, 4, 3, 2],
            FiringIntervals = [150, 90, 150, 90, 150, 90],
            Ignition = Ignition.Distributor,
            Injection = Injection.ThrottleBody,
            AccessMinutes = new Dictionary<int, double> { [2] = 12.5 }.ToImmutableDictionary(),
            Limits = new Dictionary<string, double> { ["compression-min-kpa"] = 0.1 + 0.2 }.ToImmutableDictionary(),
            Hybrid = true,
        };
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "Odd fire"), await shop.Orders.SetEngineAsync(order.Id, engine, " Odd fire ", Guid.NewGuid(), "Rosa"));
        var kept = (await shop.ReadAsync(order)).Vehicle.Engine!;
        Assert.Equivalent(engine, kept, strict: true);
        Assert.Contains("coil-on-plug", Json.StorageJson.Write(TestShop.Four), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_engine_that_cannot_be_is_refused()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var answer = await shop.Orders.SetEngineAsync(order.Id, TestShop.Four with { FiringOrder = [1, 1, 4, 2] }, "Four", Guid.NewGuid(), "Rosa");
        Assert.Equal(SaveOutcome.Refused, answer.Outcome);
        Assert.Contains("firing order", answer.Message, StringComparison.Ordinal);
        Assert.Null((await shop.ReadAsync(order)).Vehicle.Engine);
    }

    [Fact]
    public async Task An_engine_without_a_cylinder_that_was_measured_is_refused_until_the_reading_is_taken_back()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var reading = TestShop.Compression(6, 1200);
        await shop.Orders.AddReadingAsync(order.Id, reading);
        var answer = await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four", Guid.NewGuid(), "Rosa");
        Assert.Equal(SaveOutcome.Refused, answer.Outcome);
        Assert.Contains("cylinder 6", answer.Message, StringComparison.Ordinal);
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(6, 1200, supersedes: reading.Id) with { Withdrawn = true });
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four", Guid.NewGuid(), "Rosa")).Outcome);
    }

    [Fact]
    public async Task Every_order_of_a_customer_hears_when_the_name_changes()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var told = new List<Guid>();
        using var all = shop.Bus.Subscribe(null, told.Add);
        var (first, comeback) = ((await shop.Orders.GetByNumberAsync(1002))!, (await shop.Orders.GetByNumberAsync(1007))!);
        await shop.SetAsync(comeback, OrderField.CustomerName, "Bright Fork Bakery & Sons");
        Assert.Equal(new[] { first.Id, comeback.Id }.Order(), told.Order());
        Assert.Equal("Bright Fork Bakery & Sons", (await shop.ReadAsync(first)).Customer.Name);
    }
}
