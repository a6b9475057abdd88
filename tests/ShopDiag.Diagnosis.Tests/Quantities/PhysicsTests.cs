using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.Tests.Quantities;

public sealed class PhysicsTests
{
    /// <summary>D12: ISO 2533 by geopotential height.</summary>
    [Theory]
    [InlineData(0, 101325.0, 288.15, 1.2250, 1.0000)]
    [InlineData(500, 95460.8, 284.90, 1.1673, 0.9421)]
    [InlineData(1000, 89874.6, 281.65, 1.1116, 0.8870)]
    [InlineData(2000, 79495.2, 275.15, 1.0065, 0.7846)]
    [InlineData(3000, 70108.5, 268.65, 0.9091, 0.6919)]
    [InlineData(4000, 61640.2, 262.15, 0.8191, 0.6083)]
    public void D12_standard_atmosphere(double metres, double pascals, double kelvin, double density, double ratio)
    {
        Assert.Equal(pascals, StandardAtmosphere.Pascals(metres), 0.06);
        Assert.Equal(kelvin, StandardAtmosphere.Kelvin(metres), 0.001);
        Assert.Equal(density, StandardAtmosphere.Density(metres), 0.00006);
        Assert.Equal(ratio, StandardAtmosphere.PressureRatio(metres), 0.00006);
    }

    [Fact]
    public void Heights_beyond_the_troposphere_are_held_at_its_bound() =>
        Assert.Equal(StandardAtmosphere.Pascals(11000), StandardAtmosphere.Pascals(1e9));

    /// <summary>D12 by feet: pressure and density ratio of the standard atmosphere.</summary>
    [Theory]
    [InlineData(1000, 97716.6, 0.9644, 0.9711)]
    [InlineData(2000, 94212.9, 0.9298, 0.9428)]
    [InlineData(5000, 84307.3, 0.8320, 0.8617)]
    [InlineData(8000, 75262.4, 0.7428, 0.7860)]
    [InlineData(10000, 69681.6, 0.6877, 0.7385)]
    public void D12_standard_atmosphere_by_feet(double feet, double pascals, double pressure, double density)
    {
        Assert.Equal(pascals, StandardAtmosphere.Pascals(feet * 0.3048), 0.1);
        Assert.Equal(pressure, StandardAtmosphere.PressureRatio(feet * 0.3048), 0.00006);
        Assert.Equal(density, StandardAtmosphere.DensityRatio(feet * 0.3048), 0.00006);
    }

    /// <summary>D15: OpenStax University Physics vol. 2, Compression of an Ideal Gas in an Automobile Engine: 20 C, 1.00e5 Pa, 240 to 40 cubic centimetres.</summary>
    [Fact]
    public void D15_adiabatic_compression()
    {
        Assert.Equal(1.23e6, Adiabatic.Pressure(1.00e5, 240.0 / 40), 0.005e6);
        Assert.Equal(1_228_604, Adiabatic.Pressure(1.00e5, 240.0 / 40), 1.0);
        Assert.Equal(600, Adiabatic.Kelvin(293.15, 240.0 / 40), 0.5);
        Assert.Equal(1128.6, Adiabatic.GaugeKPa(100, 6), 0.05);
    }

    [Theory]
    [InlineData(0.99)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_compression_ratio_that_cannot_be_is_refused(double ratio) => Assert.Throws<ArgumentOutOfRangeException>(() => Adiabatic.Pressure(100, ratio));

    /// <summary>D18: copper, 0.00393 a kelvin at 20 C.</summary>
    [Theory]
    [InlineData(12.0, 80, 14.83)]
    [InlineData(12.0, -20, 10.11)]
    [InlineData(12.0, 100, 15.77)]
    [InlineData(0.50, 100, 0.657)]
    [InlineData(13.0, 10, 12.49)]
    public void D18_copper_warms_up(double at20, double celsius, double ohm)
    {
        Assert.Equal(ohm, Copper.At(celsius, at20), 0.005);
        Assert.Equal(at20, Copper.At20(Copper.At(celsius, at20), celsius), 1e-12);
    }

    /// <summary>D20: AIEE needle gaps at 760 mmHg and 25 C, peak kilovolt, every line of the table; 2.00 cm is 22.78 kV by interpolation, printed beside it.</summary>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(-3, 0)]
    [InlineData(4.2, 5)]
    [InlineData(8.5, 10)]
    [InlineData(13.0, 15)]
    [InlineData(17.5, 20)]
    [InlineData(20, 22.78)]
    [InlineData(22.0, 25)]
    [InlineData(26.9, 30)]
    [InlineData(32.0, 35)]
    [InlineData(38.1, 40)]
    [InlineData(44.9, 45)]
    [InlineData(52, 50)]
    [InlineData(59.1, 55)]
    public void D20_needle_gap(double millimetres, double kilovolts) => Assert.Equal(kilovolts, NeedleGap.Kilovolts(millimetres), 0.005);

    /// <summary>D21: the empirical formula for uniform fields (high-voltage textbooks, from memory): 1 cm of standard air takes 30.3 kV; 1 mm at 10 atm and 600 K 16.1 kV.</summary>
    [Theory]
    [InlineData(10, 1, 293, 30.3)]
    [InlineData(1, 10, 600, 16.1)]
    [InlineData(0, 1, 293, 0)]
    [InlineData(-1, 1, 293, 0)]
    public void D21_uniform_gap(double millimetres, double atmospheres, double kelvin, double kilovolts) =>
        Assert.Equal(kilovolts, UniformGap.Kilovolts(millimetres, atmospheres, kelvin), 0.05);

    [Fact]
    public void D21_a_plug_takes_more_under_compression_and_the_wider_the_more()
    {
        Assert.Equal(16.1, UniformGap.InCylinderKilovolts(1), 0.05);
        Assert.True(UniformGap.InCylinderKilovolts(1.6) > UniformGap.InCylinderKilovolts(1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => UniformGap.Kilovolts(1, 1, 0));
    }
}
