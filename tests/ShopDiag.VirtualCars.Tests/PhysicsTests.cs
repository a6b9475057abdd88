using ShopDiag.VirtualCars.Cars.Physics;
using ShopDiag.VirtualCars.Cars.Physics.Instruments;

namespace ShopDiag.VirtualCars.Tests;

/// <summary>The formulas behind the cars against published figures.</summary>
public class PhysicsTests
{
    [Fact]
    public void A_plug_of_one_millimetre_takes_8_to_12_kilovolts_at_idle_and_more_than_20_under_load()
    {
        var c = new CylinderState { Number = 1 };

        // Halderman and Linder, p. 361: 8 to 12 kV on the compression stroke.
        Assert.InRange(Spark.Demand(c, Condition.Idle, 1, 1), 8, 12);
        Assert.InRange(Spark.Demand(c, Condition.Load, 1, 1), 18, 28);
    }

    [Theory]
    // FAA restrictor of 0.040 in, 80 psi: equivalent leak diameters of the published orifice relation (in mm) and the percentage each shows.
    [InlineData(0.669, 5.00)]
    [InlineData(0.854, 12.50)]
    [InlineData(1.045, 25.00)]
    [InlineData(1.195, 37.50)]
    [InlineData(1.333, 50.00)]
    public void A_leak_shows_the_percentage_of_its_orifice(double diameterMm, double percent)
    {
        Assert.Equal(percent, SealBench.Percent(Math.PI * diameterMm * diameterMm / 4), 0.25);
    }

    [Fact]
    public void Air_of_one_sound_cylinder_at_idle_is_about_a_quarter_of_a_two_litre_engine_s()
    {
        // Speed-density: 2.0 L, 750 rpm, VE 0.80, 35 kPa, 30 C is 4.02 g/s.
        Assert.InRange(4 * Breathing.SoundAir(Condition.Idle), 3, 4.3);
    }

    [Fact]
    public void A_vacuum_leak_matters_at_idle_and_not_under_load()
    {
        Assert.True(Breathing.LeakAir(2, Condition.Idle.MapKPa) / Breathing.SoundAir(Condition.Idle) > 0.3);
        Assert.True(Breathing.LeakAir(2, Condition.Load.MapKPa) / Breathing.SoundAir(Condition.Load) < 0.05);
    }

    [Fact]
    public void A_dead_cylinder_without_spark_makes_its_bank_look_lean()
    {
        var car = Bench.With("coil-failed").First(c => c.Driving.At(Condition.Idle).Worst > 0.95);

        Assert.True(car.Driving.At(Condition.Idle).Trims[0] > 0.02);
    }

    [Fact]
    public void Leaks_lower_compression_less_than_they_show_on_the_leak_down_tester()
    {
        // 1 mm2 shows about 30 % on the tester, yet costs about a tenth of the compression.
        Assert.InRange(SealBench.Percent(1), 25, 40);
        Assert.InRange(Breathing.Kept(1, 220), 0.85, 0.93);
    }

    [Theory]
    [InlineData(0.5, 100, 0.5)]
    [InlineData(0.1, 1000, 0.1)]
    public void Chance_counts_as_often_as_told(double probability, int tries, double share)
    {
        Assert.Equal(share, new Random(1).Count(tries * 50, probability) / (tries * 50.0), 0.02);
    }
}
