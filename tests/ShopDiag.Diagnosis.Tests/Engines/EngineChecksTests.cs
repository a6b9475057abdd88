using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.Engines;

/// <summary>What cannot be an engine is refused, with the place of the fault and what is allowed.</summary>
public sealed class EngineChecksTests
{
    private static readonly EngineSpec V6 = EngineGeometryTests.Spec("V6", "1,3,5|2,4,6", "1-2-3-4-5-6");

    [Fact]
    public void A_sound_description_makes_an_engine() => Assert.True(Engine.Create(V6).IsValid);

    [Fact]
    public void No_firing_order() => Refused(V6 with { FiringOrder = [] }, "firingOrder", "missing");

    [Fact]
    public void A_firing_order_that_was_never_set() => Refused(V6 with { FiringOrder = default }, "firingOrder", "missing");

    [Fact]
    public void A_cylinder_twice_in_the_firing_order() => Refused(V6 with { FiringOrder = [1, 2, 3, 4, 5, 5] }, "firingOrder", "from 1 to 6 exactly once");

    [Fact]
    public void A_firing_order_that_starts_at_0() => Refused(V6 with { FiringOrder = [0, 1, 2, 3, 4, 5] }, "firingOrder", "from 1 to 6 exactly once");

    [Fact]
    public void Seventeen_cylinders() => Refused(
        V6 with { FiringOrder = [.. Enumerable.Range(1, 17)], Banks = [[.. Enumerable.Range(1, 17)]] }, "firingOrder", "at most 16");

    [Fact]
    public void Sixteen_cylinders_are_the_most() => Assert.True(
        Engine.Create(V6 with { FiringOrder = [.. Enumerable.Range(1, 16)], Banks = [[.. Enumerable.Range(1, 16)]] }).IsValid);

    [Fact]
    public void No_banks() => Refused(V6 with { Banks = [] }, "banks", "missing");

    [Fact]
    public void An_empty_bank() => Refused(V6 with { Banks = [[1, 2, 3, 4, 5, 6], []] }, "banks", "missing");

    [Fact]
    public void A_cylinder_on_two_banks() => Refused(V6 with { Banks = [[1, 3, 5], [2, 4, 5]] }, "banks", "exactly once");

    [Fact]
    public void A_cylinder_on_no_bank() => Refused(V6 with { Banks = [[1, 3, 5], [2, 4]] }, "banks", "exactly once");

    [Fact]
    public void An_interval_too_few() => Refused(V6 with { FiringIntervals = [150, 90, 150, 90, 240] }, "firingIntervals", "one interval");

    [Theory]
    [InlineData(0)]
    [InlineData(-90)]
    [InlineData(720)]
    [InlineData(double.NaN)]
    public void An_interval_that_cannot_be(double degrees) =>
        Refused(V6 with { FiringIntervals = [degrees, 90, 150, 90, 150, 90] }, "firingIntervals", "above 0 and below 720");

    [Fact]
    public void Intervals_that_are_not_two_turns() =>
        Refused(V6 with { FiringIntervals = [150, 90, 150, 90, 150, 80] }, "firingIntervals", "add up to 720");

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    public void Access_to_a_bank_that_is_not_there(int bank) => Refused(
        V6 with { AccessMinutes = Minutes(bank, 40) }, $"accessMinutes.{bank}", "this engine has 2");

    [Theory]
    [InlineData(-1)]
    [InlineData(1441)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Access_minutes_that_cannot_be(double minutes) => Refused(V6 with { AccessMinutes = Minutes(2, minutes) }, "accessMinutes.2", "from 0 to 1440");

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void A_limit_that_is_no_number(double limit) => Refused(
        V6 with { Limits = ImmutableDictionary<string, double>.Empty.Add("compression-min-kpa", limit) }, "limits.compression-min-kpa", "must be a number");

    private static void Refused(EngineSpec spec, string at, string said)
    {
        var engine = Engine.Create(spec);

        Assert.False(engine.IsValid);
        Assert.Equal(at, engine.Error!.At);
        Assert.Contains(said, engine.Error.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidOperationException>(() => engine.Value);
    }

    private static ImmutableDictionary<int, double> Minutes(int bank, double minutes) => ImmutableDictionary<int, double>.Empty.Add(bank, minutes);
}
