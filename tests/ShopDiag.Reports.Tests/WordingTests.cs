using ShopDiag.Reports.Models;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports.Tests;

public sealed class WordingTests
{
    [Theory]
    [InlineData(0, "under 1 %")]
    [InlineData(0.005, "under 1 %")]
    [InlineData(0.01, "1 %")]
    [InlineData(0.645, "65 %")]
    [InlineData(0.99, "99 %")]
    [InlineData(0.991, "over 99 %")]
    [InlineData(1, "over 99 %")]
    public void No_cause_is_ever_called_impossible_or_certain(double probability, string words) => Assert.Equal(words, Wording.Percent(probability));

    [Theory]
    [InlineData(0.2, "less than a minute")]
    [InlineData(1, "about 1 minute")]
    [InlineData(59.4, "about 59 minutes")]
    [InlineData(59.5, "about 1 hour")]
    [InlineData(61, "about 1 hour 1 minute")]
    [InlineData(150, "about 2 hours 30 minutes")]
    public void Labour_is_said_as_a_person_says_it(double minutes, string words) => Assert.Equal(words, Wording.Labour(minutes));

    [Theory]
    [InlineData("Halcyon Brisa", 2014, "Halcyon Brisa, 2014")]
    [InlineData("", 2014, "2014")]
    [InlineData("Halcyon Brisa", null, "Halcyon Brisa")]
    public void A_vehicle_is_said_with_what_is_known_of_it(string description, int? year, string words) =>
        Assert.Equal(words, Wording.Vehicle(new VehicleOnPaper { Description = description, Year = year }));

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    public void A_probability_outside_its_bounds_is_a_broken_promise(double probability) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Samples.Simple.Findings[0] with { Probability = probability });

    [Theory]
    [InlineData(-1)]
    [InlineData(100_001)]
    [InlineData(double.NaN)]
    public void Labour_outside_its_bounds_is_a_broken_promise(double minutes) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Samples.Simple.Proposal! with { LabourMinutes = minutes });
}
