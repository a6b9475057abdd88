using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Tests.Rows;

public sealed class RoundTripTests
{
    [Fact]
    public async Task An_order_comes_out_of_the_database_as_it_went_in()
    {
        await using var shop = await TestShop.OpenAsync();
        await Generators.Order.SampleAsync(
            async order =>
            {
                var kept = await ThroughTheDatabaseAsync(shop, order);
                Assert.Equal(StorageJson.Write(order), StorageJson.Write(kept));
            },
            iter: 150,
            threads: 1);
    }

    [Fact]
    public async Task Settings_come_out_of_the_database_as_they_went_in()
    {
        await using var shop = await TestShop.OpenAsync();
        await Generators.Settings.SampleAsync(
            async settings =>
            {
                await shop.Shop.SaveAsync(settings);
                Assert.Equal(StorageJson.Write(settings), StorageJson.Write(await shop.Shop.GetAsync()));
            },
            iter: 60,
            threads: 1);
    }

    [Fact]
    public void The_values_of_a_reading_come_back_to_the_last_bit() => Generators.Value.Sample(value =>
    {
        var kept = ReadingValueJson.Read(ReadingValueJson.Write(value));
        Assert.Equal(value.Fields.Keys, kept.Fields.Keys);
        foreach (var (name, field) in value.Fields)
        {
            Assert.Equal(field.Numbers.Select(BitConverter.DoubleToInt64Bits), kept.Fields[name].Numbers.Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(field.Texts, kept.Fields[name].Texts);
        }
    });

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void A_number_that_is_none_is_never_written(double number) =>
        Assert.Throws<ArgumentException>(() => ReadingValueJson.Write(TestShop.Value("kPa", number)));

    [Fact]
    public void Values_are_kept_in_a_form_that_a_person_can_read() => Assert.Equal(
        """{"codes":["P0301","U0100"],"idle.shortPercent":-2.5,"misfireMovedTo":null,"trials":[700,698.5],"where":"Schlauch rissig – „hörbar“"}""",
        ReadingValueJson.Write(new(
        [
            new("codes", FieldValue.Of("P0301", "U0100")),
            new("idle.shortPercent", FieldValue.Of(-2.5)),
            new("misfireMovedTo", FieldValue.Null),
            new("trials", FieldValue.Of(700, 698.5)),
            new("where", FieldValue.Of("Schlauch rissig – „hörbar“")),
        ])));

    [Fact]
    public void Tidied_text_stays_as_it_is_and_can_be_kept() => Gen.String.Sample(text =>
    {
        var clean = PlainText.Clean(text);
        Assert.Equal(clean, PlainText.Clean(clean));
        Assert.Equal(clean, System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(clean)));
        Assert.DoesNotContain('\0', clean);
        Assert.Equal(SearchText.Key(SearchText.Fold(text)), SearchText.Key(text));
    });

    private static async Task<RepairOrder> ThroughTheDatabaseAsync(TestShop shop, RepairOrder order)
    {
        await using (var db = shop.Context())
        {
            // The same database serves every example; the unique number moves on with it.
            order = order with { Number = 1001 + db.Orders.Count() };
            db.AddRange(order.Customer.ToRow(), order.Vehicle.ToRow(order.Customer.Id), order.ToRow(DateTime.UnixEpoch.ToUniversalTime()));
            await db.SaveChangesAsync();
        }

        return (await shop.Orders.GetAsync(order.Id))! with { Number = 1001 };
    }
}
