using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class FieldTests
{
    [Theory]
    [InlineData(OrderField.CustomerName, "  Marisol Venn ", "Marisol Venn")]
    [InlineData(OrderField.CustomerName, "Zoe\u0301 \u0000Blank\u0007", "Zoé Blank")]
    [InlineData(OrderField.CustomerName, "😀 漢字", "😀 漢字")]
    [InlineData(OrderField.CustomerPhone, "555-0101", "555-0101")]
    [InlineData(OrderField.CustomerEmail, "a@example.com", "a@example.com")]
    [InlineData(OrderField.CustomerEmail, " jörg.o'neil+work@büro.example.co.uk ", "jörg.o'neil+work@büro.example.co.uk")]
    [InlineData(OrderField.CustomerEmail, "", "")]
    [InlineData(OrderField.VehiclePlate, "qhv 4417", "qhv 4417")]
    [InlineData(OrderField.VehicleVin, "1m8gdm9axkp042788", "1M8GDM9AXKP042788")]
    [InlineData(OrderField.VehicleDescription, "Corvina Estate 2.0", "Corvina Estate 2.0")]
    [InlineData(OrderField.VehicleYear, "1950", "1950")]
    [InlineData(OrderField.VehicleYear, "2100", "2100")]
    [InlineData(OrderField.VehicleYear, "", "")]
    [InlineData(OrderField.Odometer, "123,456", "123456")]
    [InlineData(OrderField.Odometer, "1 234 567", "1234567")]
    [InlineData(OrderField.Odometer, "0", "0")]
    [InlineData(OrderField.OdometerUnit, "MI", "mi")]
    [InlineData(OrderField.ConcernText, " shakes\r\nat idle ", "shakes\nat idle")]
    [InlineData(OrderField.ConcernCodes, "p0304 P0301,p0304;u0100", "P0304, P0301, U0100")]
    [InlineData(OrderField.ConcernCodes, "", "")]
    [InlineData(OrderField.ConcernLamp, "flashing", "Flashing")]
    [InlineData(OrderField.ConcernWhen, "Idle, cold, idle", "idle, cold")]
    [InlineData(OrderField.Technician, "Lena", "Lena")]
    [InlineData(OrderField.PromisedAt, "2026-03-05T16:30:00Z", "2026-03-05T16:30:00.0000000Z")]
    [InlineData(OrderField.PromisedAt, "2026-03-05T16:30+02:00", "2026-03-05T14:30:00.0000000Z")]
    [InlineData(OrderField.PromisedAt, "", "")]
    [InlineData(OrderField.AuthorisedMinutes, "90", "90")]
    [InlineData(OrderField.CodesCleared, "yes", "Yes")]
    [InlineData(OrderField.CodesCleared, "", "")]
    [InlineData(OrderField.MonitorsNoted, " misfire and fuel done ", "misfire and fuel done")]
    [InlineData(OrderField.DiagnosisPriceMinor, "14500", "14500")]
    [InlineData(OrderField.DiagnosisPriceMinor, "9223372036854775807", "9223372036854775807")]
    public async Task A_field_is_saved_tidied_and_read_back(OrderField field, string typed, string kept)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var answer = await shop.Orders.SetFieldAsync(order.Id, field, typed, order.FieldText(field), Guid.NewGuid(), "Rosa");
        Assert.Equal(new SaveResult(SaveOutcome.Saved, kept), answer);
        Assert.Equal(kept, (await shop.ReadAsync(order)).FieldText(field));
    }

    [Theory]
    [InlineData(OrderField.CustomerEmail, "a.example.com", "no e-mail address")]
    [InlineData(OrderField.CustomerEmail, "a@example", "one @")]
    [InlineData(OrderField.CustomerEmail, "a@b@example.com", "one @")]
    [InlineData(OrderField.CustomerEmail, "a b@example.com", "no e-mail address")]
    [InlineData(OrderField.CustomerEmail, "@example.com", "no e-mail address")]
    [InlineData(OrderField.CustomerEmail, "a@example..com", "no e-mail address")]
    [InlineData(OrderField.CodesCleared, "perhaps", "Yes, No")]
    [InlineData(OrderField.VehicleYear, "20166", "from 1950 to 2100")]
    [InlineData(OrderField.VehicleYear, "1949", "from 1950 to 2100")]
    [InlineData(OrderField.VehicleYear, "1998.5", "whole number")]
    [InlineData(OrderField.VehicleYear, "-1998", "whole number")]
    [InlineData(OrderField.Odometer, "10,000,000", "from 0 to 9999999")]
    [InlineData(OrderField.Odometer, "123.456", "whole number")]
    [InlineData(OrderField.Odometer, "12,34", "whole number")]
    [InlineData(OrderField.OdometerUnit, "furlong", "km, mi")]
    [InlineData(OrderField.ConcernCodes, "P0301, P03G1", "P03G1")]
    [InlineData(OrderField.ConcernCodes, "P4301", "P4301")]
    [InlineData(OrderField.ConcernCodes, "301", "such as P0301")]
    [InlineData(OrderField.ConcernLamp, "2", "Unknown, Off, Steady, Flashing")]
    [InlineData(OrderField.ConcernWhen, "idle, in the rain", "after-work")]
    [InlineData(OrderField.PromisedAt, "2026-03-05T16:30:00", "with its zone")]
    [InlineData(OrderField.PromisedAt, "tomorrow", "such as 2026-03-05T16:30:00Z")]
    [InlineData(OrderField.PromisedAt, "2026-02-30T16:30:00Z", "no time")]
    [InlineData(OrderField.AuthorisedMinutes, "", "from 0 to 10000")]
    [InlineData(OrderField.AuthorisedMinutes, "10001", "from 0 to 10000")]
    [InlineData(OrderField.DiagnosisPriceMinor, "-1", "from 0")]
    [InlineData(OrderField.DiagnosisPriceMinor, "9223372036854775808", "from 0")]
    public async Task What_cannot_be_is_refused_saying_what_is_allowed_and_changes_nothing(OrderField field, string typed, string said)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var answer = await shop.SetAsync(order, field, typed);
        Assert.Equal((SaveOutcome.Refused, order.FieldText(field)), (answer.Outcome, answer.Current));
        Assert.Contains(said, answer.Message, StringComparison.Ordinal);
        Assert.Equal(order.FieldText(field), (await shop.ReadAsync(order)).FieldText(field));
    }

    [Fact]
    public async Task Half_a_surrogate_pair_becomes_what_the_database_would_give_back()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "half \ufffd a sign"), await shop.SetAsync(order, OrderField.CustomerName, "half \ud83d a sign"));
        Assert.Equal("half \ufffd a sign", (await shop.ReadAsync(order)).Customer.Name);
    }

    [Fact]
    public async Task Text_that_is_too_long_is_refused_and_not_cut()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var answer = await shop.SetAsync(order, OrderField.CustomerName, new string('x', 201));
        Assert.Equal(SaveOutcome.Refused, answer.Outcome);
        Assert.Contains("At most 200 letters fit here; these are 201", answer.Message, StringComparison.Ordinal);
        Assert.Equal(SaveOutcome.Saved, (await shop.SetAsync(order, OrderField.ConcernText, new string('x', 8000))).Outcome);
    }

    [Fact]
    public async Task Every_field_has_a_rule_whose_own_text_goes_through_unchanged()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1007))!;
        foreach (var field in Enum.GetValues<OrderField>())
        {
            var text = order.FieldText(field);
            Assert.Equal(new SaveResult(SaveOutcome.Saved, text), await shop.Orders.SetFieldAsync(order.Id, field, text, text, Guid.NewGuid(), "Rosa"));
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => order.FieldText((OrderField)99));
    }

    [Fact]
    public async Task Codes_lamp_and_conditions_reach_the_reasoning()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.ConcernCodes, "p0304 p0171");
        await shop.SetAsync(order, OrderField.ConcernLamp, "Flashing");
        await shop.SetAsync(order, OrderField.ConcernWhen, "cold,idle");
        var concern = (await shop.ReadAsync(order)).Concern;
        Assert.Equal(["P0304", "P0171"], concern.Codes);
        Assert.Equal(["cold", "idle"], concern.When);
        Assert.Equal(Lamp.Flashing, concern.Lamp);
    }

    [Fact]
    public async Task A_change_by_somebody_else_is_a_conflict_that_shows_both_texts()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.Technician, "Lena");
        var answer = await shop.Orders.SetFieldAsync(order.Id, OrderField.Technician, "Marco", "", Guid.NewGuid(), "Marco");
        Assert.Equal((SaveOutcome.Conflict, "Lena"), (answer.Outcome, answer.Current));
        Assert.Contains("Lena", answer.Message, StringComparison.Ordinal);
        Assert.Contains("Marco", answer.Message, StringComparison.Ordinal);
        Assert.Equal("Lena", (await shop.ReadAsync(order)).Technician);
    }

    [Theory]
    [InlineData("", "Lena", "the other had the same thought")]
    [InlineData("  Lena ", "Marco", "the base is the typed text before it was tidied")]
    [InlineData(null, "Marco", "no base, no check")]
    public async Task It_is_no_conflict_when(string? baseValue, string typed, string why)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.Technician, "Lena");
        var answer = await shop.Orders.SetFieldAsync(order.Id, OrderField.Technician, typed, baseValue, Guid.NewGuid(), "Rosa");
        Assert.True(answer.Outcome == SaveOutcome.Saved, why);
    }

    [Fact]
    public async Task A_field_of_an_unknown_order_is_refused()
    {
        await using var shop = await TestShop.OpenAsync();
        var answer = await shop.Orders.SetFieldAsync(Guid.NewGuid(), OrderField.Technician, "Lena", null, Guid.NewGuid(), "Rosa");
        Assert.Equal(SaveOutcome.Refused, answer.Outcome);
        Assert.Contains("no such order", answer.Message, StringComparison.Ordinal);
    }
}
