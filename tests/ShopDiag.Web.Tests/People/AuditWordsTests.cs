using ShopDiag.Diagnosis;
using ShopDiag.Storage.Audit;
using ShopDiag.Web.People;
using ShopDiag.Web.Tests.WorkupViews;

namespace ShopDiag.Web.Tests.People;

/// <summary>The record in words that a person of the shop reads.</summary>
public sealed class AuditWordsTests
{
    [Theory]
    // The price is kept in the smallest coin: 14,500 cents are 145 dollars, and the yen has no smaller coin (ISO 4217).
    [InlineData("set DiagnosisPriceMinor", null, "14500", "USD", "Price of the diagnosis: $145.00")]
    [InlineData("set DiagnosisPriceMinor", "14500", "9900", "JPY", "Price of the diagnosis: 14,500 JPY → 9,900 JPY")]
    [InlineData("set ConcernLamp", "Unknown", "Steady", "USD", "Warning lamp: not said → lit steadily")]
    [InlineData("set finding", null, "coil-failed", "USD", "Finding: Ignition coil failed")]
    [InlineData("set finding", "coil-failed", null, "USD", "Finding: Ignition coil failed → nothing")]
    [InlineData("set AuthorisedMinutes", "60", "60", "USD", "Diagnostic minutes authorised: 60")]
    [InlineData("add obstacle", null, "leak-down, cylinder 3", "USD", "Said that it cannot be taken: Leak-down, cylinder 3")]
    [InlineData("end obstacle", null, "leak-down, the engine", "USD", "Can be taken after all: Leak-down, on this car")]
    [InlineData("add reading", null, "fuel-pressure, the engine", "USD", "Reading: Fuel pressure, the engine")]
    [InlineData("set VehicleYear", "2016", "", "USD", "Model year: 2016 → nothing")]
    public void Ids_and_smallest_coins_are_said_as_the_pages_say_them(string what, string? before, string? after, string currency, string words) =>
        Assert.Equal(words, AuditWords.Of(new AuditEntry(1, ABench.Noon.UtcDateTime, "Ruth", "", what, before, after, Guid.NewGuid()), Knowledge.Shipped, currency));
}
