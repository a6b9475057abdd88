using CsCheck;
using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>How the least compression is carried to the shop's height.</summary>
public sealed class AltitudeRuleTests
{
    private const double MetresAFoot = 0.3048;

    /// <summary>D13: the published correction factors (the same in makers' manuals) are the density ratio, to their three digits at every whole thousand feet.</summary>
    [Theory]
    [InlineData(1000, 0.971)]
    [InlineData(2000, 0.943)]
    [InlineData(3000, 0.915)]
    [InlineData(4000, 0.888)]
    [InlineData(5000, 0.862)]
    [InlineData(6000, 0.836)]
    public void D13_published_factors_are_the_density_ratio(double feet, double factor) =>
        Assert.Equal(factor, StandardAtmosphere.DensityRatio(feet * MetresAFoot), 0.0006);

    /// <summary>D13: the half thousands of the published table are a little off the density ratio.</summary>
    [Theory]
    [InlineData(500, 0.987)]
    [InlineData(1500, 0.960)]
    [InlineData(2500, 0.933)]
    [InlineData(3500, 0.907)]
    [InlineData(4500, 0.880)]
    [InlineData(5500, 0.853)]
    public void D13_published_half_thousands_lie_near_it(double feet, double factor) =>
        Assert.Equal(factor, StandardAtmosphere.DensityRatio(feet * MetresAFoot), 0.006);

    /// <summary>D13: 150 psi at 2000 ft is 141.5 psi by the published table; 139.5 by the pressure ratio. In kilopascal, so that the rounding does not show.</summary>
    [Fact]
    public void D13_a_hundred_and_fifty_psi_at_two_thousand_feet()
    {
        Assert.Equal(141.5, CompressionRules.AtAltitude(150_000, 2000 * MetresAFoot, AltitudeRule.DensityRatio) / 1000, 0.1);
        Assert.Equal(139.5, CompressionRules.AtAltitude(150_000, 2000 * MetresAFoot, AltitudeRule.PressureRatio) / 1000, 0.1);
    }

    /// <summary>D12: pressure ratio 0.7846 and density 1.0065/1.2250 at 2000 m: 690 kPa become 541 or 567.</summary>
    [Theory]
    [InlineData(AltitudeRule.PressureRatio, "541 kPa", "pressure ratio")]
    [InlineData(AltitudeRule.DensityRatio, "567 kPa", "density ratio")]
    public void The_finding_names_the_rule_used(AltitudeRule rule, string least, string name)
    {
        var because = Judge(I4, "compression-dry", [At(1, N("kPa", 900))], 2000, rule: rule).Single().Because;
        Assert.Contains(least, because, StringComparison.Ordinal);
        Assert.Contains($"for 2000 m above sea level scaled by the {name} of the standard atmosphere", because, StringComparison.Ordinal);
    }

    [Fact]
    public void At_sea_level_no_rule_is_named() =>
        Assert.DoesNotContain("standard atmosphere", Judge(I4, "compression-dry", [At(1, N("kPa", 900))], rule: AltitudeRule.DensityRatio).Single().Because, StringComparison.Ordinal);

    [Theory]
    [InlineData(0, "541 kPa")]
    [InlineData(1, "567 kPa")]
    public void An_engines_own_rule_goes_before_the_shops(double own, string least)
    {
        var engine = I4.With(("compression-altitude-density-ratio", own));
        Assert.All([AltitudeRule.PressureRatio, AltitudeRule.DensityRatio], rule =>
            Assert.Contains(least, Judge(engine, "compression-dry", [At(1, N("kPa", 900))], 2000, rule: rule).Single().Because, StringComparison.Ordinal));
    }

    [Fact]
    public void Comparison_between_cylinders_needs_no_correction() => Gen.Select(Gen.Double[700, 1500].Array[4], Gen.Double[0, 3000]).Sample((kPa, metres) =>
    {
        var readings = kPa.Select((p, i) => At(i + 1, N("kPa", p))).ToArray();
        string By(AltitudeRule rule) => Judge(I4, "compression-dry", readings, metres, rule: rule).Outcomes();
        Assert.Equal(By(AltitudeRule.PressureRatio), By(AltitudeRule.DensityRatio));
    });

    /// <summary>D15: no reading of air alone exceeds adiabatic compression; 14:1 at sea level gives 3975 kPa, and the gauge's range ends there.</summary>
    [Fact]
    public void D15_more_than_air_can_give_is_remarked_on()
    {
        Assert.Equal(3975, CompressionRules.MostOfAir(14, 0), 1.0);
        Assert.Contains("Air alone gives at most", JudgeOne(I4.With(("compression-most-ratio", 9)), "compression-dry", At(1, N("kPa", 2300))).Because, StringComparison.Ordinal);
        Assert.DoesNotContain("Air alone", JudgeOne(I4, "compression-dry", At(1, N("kPa", 2300))).Because, StringComparison.Ordinal);
    }
}
