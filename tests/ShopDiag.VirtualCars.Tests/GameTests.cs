using ShopDiag.Diagnosis;
using ShopDiag.VirtualCars.Cars;
using ShopDiag.VirtualCars.Cars.Physics;
using ShopDiag.VirtualCars.Play;
using ShopDiag.VirtualCars.Policies;
using ShopDiag.VirtualCars.Tables;

namespace ShopDiag.VirtualCars.Tests;

/// <summary>The player, its bookkeeping and the tables.</summary>
public class GameTests
{
    private static Fair FairOf(int cars, int seed = 1, int faults = 1) =>
        new(new PhysicsCarMaker(), new Plan(cars, seed, ReaderError.Ordinary, faults, BenchEngines.All), Knowledge.Shipped);

    [Fact]
    public void The_same_seed_gives_the_same_table_however_many_run_at_once()
    {
        string Table(int parallel)
        {
            var fair = FairOf(12);
            IPolicy[] policies = [new FollowsAdvice(), new CarefulChecklist()];
            return new Report(fair.Plan, "one", fair.PlayAll(policies, parallel), [.. policies.Select(p => p.Name)]).Write();
        }

        Assert.Equal(Table(1), Table(3));
        Assert.NotEqual(FairOf(12).Car(3).Faults, FairOf(12, seed: 2).Car(3).Faults);
    }

    [Fact]
    public void Probabilities_are_held_against_the_truth_at_every_decision_and_after_the_check_of_the_last()
    {
        var fair = FairOf(1);
        var moments = fair.Play(new RepairsTwice(), 0).Moments;

        // What was stated before the part in vain, before the proven repair, and after its check.
        Assert.Equal(moments[4].Length, moments[2].Length + moments[3].Length);
        Assert.Equal(2, moments[2].Count(s => s.First));
        Assert.Single(moments[3], s => s.First);
    }

    [Fact]
    public void The_check_of_a_proven_repair_is_no_minute_of_diagnosis()
    {
        var fair = FairOf(1);
        var plug = Knowledge.Shipped.Cause("plug-cracked")!.Repair;
        var access = fair.EngineOf(0).Engine.AccessMinutes(fair.EngineOf(0).Engine.BankOf(1));

        var result = fair.Play(new RepairsTwice(), 0);

        Assert.Equal(plug.LabourMinutes + plug.PartsInMinutes + access, result.Minutes);
    }

    [Fact]
    public void Access_is_counted_once_while_it_stays_open()
    {
        var engine = Bench.Engine("V6-transverse");
        var clock = new BenchClock(engine, Knowledge.Shipped);
        var spark = Knowledge.Shipped.Test("spark-output")!;
        var plug = Knowledge.Shipped.Test("plug-condition")!;
        var out_ = Knowledge.Shipped.Limits["plug-out-min"].Default;

        Assert.Equal(40 + spark.FirstMinutes, clock.Take(spark, [Place.Cylinder(4)]));
        Assert.Equal(spark.EachMinutes, clock.Take(spark, [Place.Cylinder(2)]));
        Assert.Equal(out_ + plug.FirstMinutes, clock.Take(plug, [Place.Cylinder(4)]));
        Assert.Equal(plug.EachMinutes, clock.Take(plug, [Place.Cylinder(4)]));
        clock.CloseUp();
        Assert.Equal(40 + out_ + plug.FirstMinutes, clock.Take(plug, [Place.Cylinder(4)]));
        Assert.Equal(80 + (2 * spark.FirstMinutes) + spark.EachMinutes - spark.FirstMinutes + (2 * out_) + (2 * plug.FirstMinutes) + plug.EachMinutes, clock.Minutes);
    }

    [Fact]
    public void A_tried_part_counts_its_labour_and_is_needless_when_it_mends_nothing()
    {
        var car = Bench.With("exhaust-valve-leak").First();
        var game = new Game(car, Knowledge.Shipped);
        var coil = Knowledge.Shipped.Cause("coil-failed")!.Repair;

        var verdict = game.Repair("coil-failed", car.Faults[0].At, proven: false);

        Assert.False(verdict.Mended);
        Assert.Equal(1, game.NeedlessParts);
        Assert.Equal(coil.LabourMinutes + coil.PartsInMinutes, game.Minutes);
        Assert.True(game.Repair("exhaust-valve-leak", car.Faults[0].At, proven: true).Right);
        Assert.False(game.StillMisfires);
    }

    [Theory]
    [InlineData("coil-failed", 1, "coil-failed", 1, true)]
    [InlineData("coil-failed", 2, "coil-failed", 1, false)]
    [InlineData("coil-boot-leak", 1, "coil-failed", 1, false)]
    [InlineData("coil-failed", 1, "coil-boot-leak", 1, true)]
    [InlineData("plug-worn", 3, "plug-worn", 1, true)]
    [InlineData("coil-control-lost", 1, "control-module-driver", 1, true)]
    public void A_diagnosis_is_right_when_it_names_cause_and_place(string said, int at, string hidden, int where, bool right)
    {
        Assert.Equal(right, Truth.Names(said, Place.Cylinder(at), new HiddenFault(hidden, Place.Cylinder(where)), Bench.Engine("I4-coil-on-plug")));
    }

    [Fact]
    public void Calibration_of_honest_statements_is_good_and_of_boasts_is_not()
    {
        var random = new Random(5);
        var honest = Enumerable.Range(0, 20000).Select(_ => random.NextDouble()).Select(p => new Stated(p, random.NextDouble() < p, false)).ToArray();
        var boasts = honest.Select(s => s with { Probability = 0.95 }).ToArray();

        Assert.InRange(Calibration.Of(honest).Ece, 0, 0.02);
        Assert.Equal(1.0 / 6, Calibration.Of(honest).Brier, 0.01);
        Assert.Equal(0.45, Calibration.Of(boasts).Ece, 0.02);
    }

    [Fact]
    public void A_trace_tells_the_truth_first_and_how_it_ended_last()
    {
        var text = Dialogue.Of(FairOf(5), 2, new CarefulChecklist());

        Assert.Contains("TRUTH: ", text, StringComparison.Ordinal);
        Assert.Contains("TAKE misfire-counts", text, StringComparison.Ordinal);
        Assert.Contains("END: ", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_engine_of_reasoning_would_be_noticed()
    {
        var results = FairOf(60).PlayAll([new FollowsAdvice(), new CarefulChecklist()], 2);
        var (own, list) = (results["ShopDiag"], results["careful checklist"]);

        // Loose bars: the real figures stand in the documents.
        Assert.True(own.Count(r => r.Ending == Ending.Right) >= 42, $"right: {own.Count(r => r.Ending == Ending.Right)} of 60");
        Assert.True(own.Count(r => r.Ending == Ending.Wrong) <= 6, $"wrong: {own.Count(r => r.Ending == Ending.Wrong)} of 60");
        Assert.True(list.Count(r => r.Ending == Ending.Right) >= 45, $"checklist right: {list.Count(r => r.Ending == Ending.Right)} of 60");
        Assert.True(own.Average(r => r.Minutes) < 1.2 * list.Average(r => r.Minutes));
    }

    [Theory]
    [InlineData("--cars", "x")]
    [InlineData("--engine", "rotary")]
    [InlineData("--faults", "3")]
    [InlineData("--cars")]
    public void A_wrong_command_line_says_so(params string[] arguments)
    {
        Assert.Throws<FormatException>(() => Options.Parse(arguments));
    }

    // A part in vain, then a repair that it calls proven; nothing is read.
    private sealed class RepairsTwice : IPolicy
    {
        public string Name => "repairs twice";

        public void Play(Game game, int faults)
        {
            _ = game.Assessment;
            game.Repair("plug-cracked", Place.Cylinder(1), proven: false);
            _ = game.Assessment;
            game.Repair("coil-failed", Place.Cylinder(4), proven: true);
        }
    }
}
