using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Tests.Orders;

public sealed class FieldCodecTests
{
    // Two hours ahead of UTC in summer, one in winter; the clocks go forward on 29 March 2026 at 2:00.
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    [Theory]
    [InlineData("120", "USD", 12000)]
    [InlineData("120.5", "USD", 12050)]
    [InlineData(" 1,234.56 ", "USD", 123456)]
    [InlineData("1500", "JPY", 1500)]
    [InlineData("1.234", "KWD", 1234)]
    public void An_amount_is_read_exactly(string text, string currency, long minor) => Assert.Equal(minor, Money.Read(text, currency).Value);

    [Theory]
    [InlineData("120,50", "USD")]
    [InlineData("1.005", "USD")]
    [InlineData("-5", "USD")]
    [InlineData("twelve", "USD")]
    [InlineData("12.5", "JPY")]
    [InlineData("99999999999", "USD")]
    [InlineData("1,23,456", "USD")]
    public void An_amount_that_could_be_meant_otherwise_is_refused(string text, string currency) => Assert.False(Money.Read(text, currency).IsValid);

    [Theory]
    [InlineData(OrderField.PromisedAt, "2026-07-01T14:30:00.0000000Z", "2026-07-01T16:30")]
    [InlineData(OrderField.PromisedAt, "", "")]
    [InlineData(OrderField.DiagnosisPriceMinor, "12050", "120.50")]
    [InlineData(OrderField.DiagnosisPriceMinor, "", "")]
    [InlineData(OrderField.AuthorisedMinutes, "0", "")]
    [InlineData(OrderField.AuthorisedMinutes, "45", "45")]
    [InlineData(OrderField.ConcernText, "as it is", "as it is")]
    public void The_screen_shows_what_people_write(OrderField field, string store, string screen) =>
        Assert.Equal(screen, FieldCodec.Of(field, "USD", Zone).ToScreen(store));

    [Theory]
    [InlineData("2026-07-01T16:30", "2026-07-01T14:30:00Z")]
    [InlineData("2026-01-15T16:30", "2026-01-15T15:30:00Z")]
    [InlineData("2026-01-15T16:30:00", "2026-01-15T15:30:00Z")]
    public void A_local_time_is_kept_in_UTC(string screen, string store) =>
        Assert.Equal(store, FieldCodec.Of(OrderField.PromisedAt, "USD", Zone).ToStore(screen).Value);

    [Theory]
    [InlineData("2026-03-29T02:30")]
    [InlineData("soon")]
    public void A_time_that_does_not_exist_is_refused_in_words(string screen) =>
        Assert.NotEmpty(FieldCodec.Of(OrderField.PromisedAt, "USD", Zone).ToStore(screen).Error!.Message);

    [Fact]
    public async Task The_stores_answer_comes_back_as_the_screen_writes_it()
    {
        var result = await FieldCodec.Of(OrderField.DiagnosisPriceMinor, "USD", Zone)
            .SaveAsync("99", "120.50", (value, before) => Task.FromResult(new SaveResult(SaveOutcome.Conflict, "15000", $"{value} over {before}")));
        Assert.Equal(("150.00", "9900 over 12050"), (result.Current, result.Message));
    }

    [Fact]
    public async Task A_text_that_cannot_be_read_never_reaches_the_store()
    {
        var result = await FieldCodec.Of(OrderField.DiagnosisPriceMinor, "USD", Zone)
            .SaveAsync("a lot", "120.50", (_, _) => throw new InvalidOperationException("must not be called"));
        Assert.Equal((SaveOutcome.Refused, "120.50"), (result.Outcome, result.Current));
    }
}
