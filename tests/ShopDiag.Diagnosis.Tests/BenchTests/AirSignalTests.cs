using ShopDiag.Diagnosis.BenchTests;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>The air signal against what the engine breathes.</summary>
public sealed class AirSignalTests
{
    // A 2.0 L four-stroke at 6000 rpm takes in 100 L/s when it fills to 100 %: at the densities of the ISO 2533 table, 1.225 g/L at sea level and 15 C, 1.0066 g/L at 2000 m
    // and 2 C.
    [Theory]
    [InlineData(122.5, 15, 0)]
    [InlineData(100.66, 2, 2000)]
    public void A_full_filling_is_the_displacement_once_in_two_revolutions_at_the_density_of_the_standard_atmosphere(double gramsPerSecond, double celsius, double metres)
    {
        var reading = At(Place.Engine, T("sensor", "air-mass"), N("gramsPerSecond", gramsPerSecond), N("rpm", 6000), N("litres", 2), N("intakeCelsius", celsius));
        Assert.Equal(100, Assert.Single(Judge(I4, "air-signal", [reading], metres)).Measure!.Value, 0.05);
    }

    [Theory]
    [InlineData(70, "fits")]
    [InlineData(45, "reads-low")]
    [InlineData(100, "reads-high")]
    public void The_filling_decides(double gramsPerSecond, string outcome) => Assert.Equal(outcome, JudgeOne(I4, "air-signal",
        At(Place.Engine, T("sensor", "air-mass"), N("gramsPerSecond", gramsPerSecond), N("rpm", 4000), N("litres", 2), N("intakeCelsius", 25))).Outcome);

    [Theory]
    [InlineData(38, "fits")]
    [InlineData(30, "reads-low")]
    [InlineData(45, "reads-high")]
    public void The_pressure_sensor_is_held_against_a_gauge(double sensor, string outcome) => Assert.Equal(outcome, JudgeOne(I4, "air-signal",
        At(Place.Engine, T("sensor", "pressure"), N("sensorKPa", sensor), N("gaugeKPa", 38))).Outcome);

    [Fact]
    public void What_is_missing_is_said_and_the_other_sensors_numbers_do_not_count()
    {
        var finding = JudgeOne(I4, "air-signal", At(Place.Engine, T("sensor", "pressure"), N("gramsPerSecond", 70), N("rpm", 4000), N("litres", 2)));
        Assert.Null(finding.Outcome);
        Assert.Equal("Enter the pressure by the sensor and by a gauge: without them nothing can be said.", finding.Because);
    }

    [Fact]
    public void Trials_on_both_sides_of_a_limit_cannot_tell()
    {
        var finding = JudgeOne(I4, "air-signal", Pull(50), Pull(70));
        Assert.Null(finding.Outcome);
        Assert.True(finding.TrialsDisagree);
    }

    private static Reading Pull(double gramsPerSecond) => At(Place.Engine, T("sensor", "air-mass"), N("gramsPerSecond", gramsPerSecond), N("rpm", 4000), N("litres", 2));
}
