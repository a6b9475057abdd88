using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars;
using ShopDiag.VirtualCars.Cars.Physics;
using ShopDiag.VirtualCars.Cars.Physics.Faults;

namespace ShopDiag.VirtualCars.Tests;

/// <summary>What the cars show on the bench.</summary>
public class CarTests
{
    public static TheoryData<string> Engines => [.. BenchEngines.All.Select(e => e.Name)];

    [Fact]
    public void There_are_at_least_eight_engines_of_all_kinds_of_ignition()
    {
        Assert.True(BenchEngines.All.Length >= 8);
        Assert.Equal(4, BenchEngines.All.Select(e => e.Engine.Ignition).Distinct().Count());
        Assert.Contains(BenchEngines.All, e => e.Engine.AccessMinutes(2) == 40);
    }

    [Fact]
    public void Every_cause_of_the_knowledge_can_be_hidden()
    {
        var hidden = FaultKind.All.Select(k => k.Cause).Append("not-a-misfire").Order();

        Assert.Equal(Knowledge.Shipped.Causes.Where(c => !c.Unlisted).Select(c => c.Id).Order(), hidden);
    }

    [Fact]
    public void Faults_sit_where_the_knowledge_has_them()
    {
        foreach (var engine in BenchEngines.All)
        {
            foreach (var kind in FaultKind.All.Where(k => k.Places(engine.Engine).Any()))
            {
                var known = Knowledge.Shipped.Cause(kind.Cause)!;
                Assert.True(kind.Places(engine.Engine).All(known.PlacesOn(engine.Engine).Contains), $"{kind.Cause} on {engine.Name}");
            }
        }
    }

    [Fact]
    public void Every_kind_of_fault_makes_a_misfire_somewhere_and_its_repair_ends_it()
    {
        foreach (var kind in FaultKind.All)
        {
            var engine = BenchEngines.All.First(e => kind.Places(e.Engine).Any());
            var car = Bench.With(kind.Cause, engine.Name).First();

            Assert.True(car.StillMisfires, kind.Cause);
            Assert.Equal(kind.Cause, car.Faults.Single().Cause);
            Assert.True(car.Repair(kind.Cause, car.Faults[0].At), kind.Cause);
            Assert.False(car.StillMisfires, kind.Cause);
        }
    }

    [Fact]
    public void A_needless_repair_mends_nothing()
    {
        var car = Bench.With("exhaust-valve-leak").First();

        Assert.False(car.Repair("coil-failed", car.Faults[0].At));
        Assert.True(car.StillMisfires);
    }

    [Theory]
    [MemberData(nameof(Engines))]
    public void Sound_cars_read_good_nearly_always(string name)
    {
        var engine = Bench.Engine(name);
        var (bad, all) = (0, 0);
        for (var seed = 0; seed < 8; seed++)
        {
            var car = PhysicsCarMaker.Sound(engine, ReaderError.Careful, seed);
            var readings = Knowledge.Shipped.Tests
                .Where(t => t.Fits(engine) && t.Needs.IsEmpty && !t.Id.EndsWith("-swap", StringComparison.Ordinal))
                .SelectMany(t => t.PlacesOn(engine).Select(p => car.Take(t, p, Stage.Before)).OfType<Reading>());
            var findings = Diagnostician.Assess(new Workup { Engine = engine, Readings = [.. readings] }, Knowledge.Shipped).Findings;
            all += findings.Length;
            bad += findings.Count(f => f.Outcome is { } o && Knowledge.Shipped.Aspect(f.Aspect)!.Value.Aspect.Outcomes.First(x => x.Id == o).IsTrouble);
        }

        Assert.True(bad <= 0.03 * all, $"{bad} of {all} findings on sound {name} cars are bad.");
    }

    [Fact]
    public void A_reading_passes_the_checks_of_its_test()
    {
        foreach (var (engine, index) in BenchEngines.All.Select((e, i) => (e, i)))
        {
            var car = new PhysicsCarMaker().Make(engine.Engine, 1, ReaderError.Hurried, new Random(index));
            foreach (var test in Knowledge.Shipped.Tests.Where(t => t.Fits(engine.Engine)))
            {
                foreach (var reading in test.PlacesOn(engine.Engine).Select(p => car.Take(test, p, Stage.Before)).OfType<Reading>())
                {
                    Assert.Null(ReadingCheck.Error(reading, test, engine.Engine));
                }
            }
        }
    }

    [Fact]
    public void Every_test_of_the_knowledge_can_be_taken_on_some_car()
    {
        // The state of the cars ends at the wire to the computer: its output pin is not modelled.
        foreach (var test in Knowledge.Shipped.Tests.Where(t => t.Id != "computer-output"))
        {
            Assert.Contains(BenchEngines.All.Where(e => test.Fits(e.Engine)), e =>
                Enumerable.Range(0, 8).Any(seed => PhysicsCarMaker.Sound(e.Engine, ReaderError.Careful, seed).Take(test, test.PlacesOn(e.Engine)[0], Stage.Before) is not null));
        }
    }

    [Fact]
    public void Faults_show_where_the_trade_looks_for_them()
    {
        Assert.True(Bench.Share(Bench.With("coil-failed").Where(c => c.Driving.At(Condition.Idle).Worst > 0.95).Take(25), "spark-output", "none", "weak") > 0.95);
        Assert.True(Bench.Share(Bench.With("coil-failed").Take(25), "coil-swap", "follows") > 0.85);
        Assert.True(Bench.With("shared-coil-failed", "I4-waste-spark").Take(25).Average(c => Bench.Read(c, "coil-swap", Place.Cylinder(c.Faults[0].At.First)) is { Outcome: "follows" } ? 1.0 : 0) > 0.85);
        Assert.True(Bench.Share(Bench.With("plug-wire-open", "I4-waste-spark").Take(25), "coil-swap", "stays") > 0.85);
        Assert.True(Bench.Share(Bench.With("plug-cracked").Take(25), "coil-swap", "stays") > 0.85);
        Assert.True(Bench.Share(Bench.With("exhaust-valve-leak").Take(25), "leak-down", "leaks-exhaust") > 0.85);
        Assert.True(Bench.Share(Bench.With("rings-worn").Where(c => c.Driving.Engine[c.Faults[0].At.First].RingLeakMm2 > 6).Take(25), "compression-wet", "rises") > 0.8);
        Assert.True(Bench.Share(Bench.With("exhaust-valve-leak").Where(c => c.Driving.Engine[c.Faults[0].At.First].ExhaustValveLeakMm2 > 8).Take(15), "compression-wet", "rises") < 0.2);
        Assert.True(Bench.Share(Bench.With("injector-winding-failed").Take(25), "injector-resistance", "open", "shorted", "out") > 0.7);
        Assert.True(Bench.Share(Bench.With("intake-leak-runner").Take(25), "intake-leak", "leak") > 0.8);
        Assert.True(Bench.Share(Bench.With("head-gasket-coolant").Take(25), "combustion-gas-in-coolant", "none") < 0.5);
    }

    [Fact]
    public void Gas_wakes_up_a_lean_cylinder_and_neither_one_without_spark_nor_one_without_fuel()
    {
        Assert.True(Bench.Share(Bench.With("injector-clogged").Where(c => c.Driving.Engine[c.Faults[0].At.First].Flow > 0.35).Take(25), "enrichment", "less") > 0.75);
        Assert.True(Bench.Share(Bench.With("injector-clogged").Where(c => c.Driving.Engine[c.Faults[0].At.First].Flow < 0.15).Take(25), "enrichment", "same") > 0.85);
        Assert.True(Bench.Share(Bench.With("intake-leak-runner").Take(25), "enrichment", "less") > 0.6);
        Assert.True(Bench.Share(Bench.With("coil-failed").Where(c => c.Driving.At(Condition.Idle).Worst > 0.95).Take(25), "enrichment", "same") > 0.9);
        Assert.True(Bench.Share(Bench.With("injector-leaking").Take(25), "enrichment", "less") < 0.1);
    }

    [Fact]
    public void A_dead_cylinder_is_dead_on_the_balance_and_hardly_any_other_is()
    {
        foreach (var car in Bench.With("coil-failed", "V6-lengthwise").Where(c => c.Driving.At(Condition.Idle).Worst > 0.97).Take(15))
        {
            Assert.Equal("dead", Bench.Read(car, "power-balance", car.Faults[0].At)!.Outcome);
            Assert.True(car.Engine.Cylinders.Count(c => Bench.Read(car, "power-balance", Place.Cylinder(c))!.Outcome == "dead") <= 2);
        }
    }

    [Fact]
    public void A_car_with_two_faults_misfires_until_both_are_mended()
    {
        for (var seed = 0; seed < 20; seed++)
        {
            var car = new PhysicsCarMaker().Make(Bench.Engine("I4-coil-on-plug"), 2, ReaderError.Ordinary, new Random(seed));
            Assert.Equal(2, car.Faults.Length);
            Assert.True(car.Repair(car.Faults[0].Cause, car.Faults[0].At));
            Assert.True(car.StillMisfires);
            Assert.True(car.Repair(car.Faults[1].Cause, car.Faults[1].At));
            Assert.False(car.StillMisfires);
        }
    }

    [Fact]
    public void The_order_of_reading_changes_no_reading()
    {
        var one = new PhysicsCarMaker().Make(Bench.Engine("V8-coil-near-plug"), 1, ReaderError.Ordinary, new Random(4));
        var other = new PhysicsCarMaker().Make(Bench.Engine("V8-coil-near-plug"), 1, ReaderError.Ordinary, new Random(4));
        var test = Knowledge.Shipped.Test("compression-dry")!;
        Assert.NotNull(other.Take(Knowledge.Shipped.Test("spark-output")!, Place.Cylinder(3), Stage.Before));

        foreach (var cylinder in one.Engine.Cylinders)
        {
            Assert.Equal(
                one.Take(test, Place.Cylinder(cylinder), Stage.Before)!.Value.Number("kPa"),
                other.Take(test, Place.Cylinder(cylinder), Stage.Before)!.Value.Number("kPa"));
        }
    }

    [Fact]
    public void Frequencies_hold_in_what_is_drawn()
    {
        var drawn = Enumerable.Range(0, 400).Select(i => new PhysicsCarMaker().Make(Bench.Engine("I4-coil-on-plug"), 1, ReaderError.Ordinary, new Random(i)))
            .GroupBy(c => c.Faults.IsEmpty ? "not-a-misfire" : c.Faults[0].Cause).ToDictionary(g => g.Key, g => g.Count());
        var total = FaultKind.All.Where(k => k.Places(Bench.Engine("I4-coil-on-plug")).Any()).Sum(k => k.Frequency) + Frequencies.NotAMisfire;

        Assert.Equal(400 * 20 / total, drawn["coil-failed"], 25.0);
        Assert.Equal(400 * 14 / total, drawn["plug-worn"], 22.0);
    }
}
