using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars;
using ShopDiag.VirtualCars.Policies;

namespace ShopDiag.VirtualCars.Play;

/// <summary>What is run: how many cars, from which seed, how they are read.</summary>
/// <param name="Cars">Number of cars.</param>
/// <param name="Seed">The seed; the same seed gives the same cars and results.</param>
/// <param name="Error">How carefully is read.</param>
/// <param name="Faults">Hidden faults a car, 1 or 2.</param>
/// <param name="Engines">The engines, taken by turns.</param>
internal sealed record Plan(int Cars, int Seed, ReaderError Error, int Faults, ImmutableArray<BenchEngine> Engines);

/// <summary>Lets every policy work on the same cars.</summary>
internal sealed class Fair(ICarMaker maker, Plan plan, Knowledge knowledge)
{
    /// <summary>The policies, the measured one first.</summary>
    public static ImmutableArray<IPolicy> Policies => [new FollowsAdvice(), new CarefulChecklist(), new MostCommonFirst()];

    public Plan Plan => plan;

    /// <summary>The engine that a car is drawn on.</summary>
    public BenchEngine EngineOf(int index) => plan.Engines[index % plan.Engines.Length];

    /// <summary>Draws a car afresh; every policy gets one of its own that is just the same.</summary>
    public IVirtualCar Car(int index) =>
        maker.Make(EngineOf(index).Engine, plan.Faults, plan.Error, new Random(unchecked((plan.Seed * 1000003) + (index * 7919) + plan.Faults)));

    /// <summary>Lets one policy work on one car.</summary>
    public Result Play(IPolicy policy, int index, IWatcher? watcher = null)
    {
        var car = Car(index);
        var tap = new Tap(car, watcher);
        var game = new Game(car, knowledge, tap);
        policy.Play(game, plan.Faults);
        var result = Result.Of(index, EngineOf(index).Name, car, game);
        // Every repair is checked. After a proven one that belongs to the repair and is no minute of diagnosis.
        if (game.Verdicts is [.., { Proven: true }] && game.Takes(AfterCheck.Counts, Place.Cylinder(1)) == 0)
        {
            tap.IsOver = true;
            AfterCheck.Run(game);
        }

        // What is believed once all is done is held against the truth too.
        _ = game.Assessment;
        return result with { Moments = tap.Moments() };
    }

    /// <summary>Lets the policies work on all cars, so many at a time; results stand in the order of cars whatever ran first.</summary>
    public ImmutableDictionary<string, ImmutableArray<Result>> PlayAll(IEnumerable<IPolicy> policies, int parallel, Action<int>? progress = null)
    {
        var all = policies.ToArray();
        var results = all.ToDictionary(p => p.Name, _ => new Result[plan.Cars]);
        var done = 0;
        Parallel.For(0, plan.Cars, new ParallelOptions { MaxDegreeOfParallelism = parallel }, index =>
        {
            foreach (var policy in all)
            {
                results[policy.Name][index] = Play(policy, index);
            }

            progress?.Invoke(Interlocked.Increment(ref done));
        });
        return results.ToImmutableDictionary(p => p.Key, p => p.Value.ToImmutableArray());
    }

    // Keeps what was stated along the way, to be held against the truth.
    private sealed class Tap(IVirtualCar car, IWatcher? next) : IWatcher
    {
        private const double Least = 0.01;
        private readonly List<ImmutableArray<Stated>> _stated = [];
        private int _looks;
        private readonly List<int> _decisions = [];

        /// <summary>True once the policy is done: what follows is the check, which no trace tells of.</summary>
        public bool IsOver { get; set; }

        private IWatcher? Next => IsOver ? null : next;

        public void Took(BenchTest test, IReadOnlyList<Reading> readings, double minutes, Game game)
        {
            // The first look is over once something else than codes, counts and balance is read.
            if (test.Id is "trouble-codes" or "misfire-counts" or "power-balance" && _stated.Count == _looks + 1 && _decisions.Count == 0)
            {
                _looks++;
            }

            Next?.Took(test, readings, minutes, game);
        }

        public void Repaired(Verdict verdict, Game game)
        {
            // Two causes that are proven together are one decision.
            if (_decisions is not [.., var last] || last != _stated.Count - 1)
            {
                _decisions.Add(_stated.Count - 1);
            }

            Next?.Repaired(verdict, game);
        }

        public void Assessed(Assessment assessment)
        {
            _stated.Add([.. assessment.Causes.Where(c => c.Probability >= Least).Select((c, i) => new Stated(c.Probability, IsTrue(c), i == 0))]);
            Next?.Assessed(assessment);
        }

        public ImmutableArray<ImmutableArray<Stated>> Moments() => _stated.Count == 0
            ? []
            :
            [
                _stated[Math.Min(_looks, _stated.Count - 1)],
                _stated[(_decisions is [.., var last] ? last + 1 : _stated.Count) / 2],
                // All decisions: only the last would be those that came out right, for after a part in vain another follows.
                [.. _decisions.SelectMany(d => _stated[d])],
                _stated[^1],
                [.. _stated.SelectMany(s => s)],
            ];

        private bool IsTrue(RankedCause ranked) => car.Faults.IsEmpty
            ? ranked.Cause == Truth.NotAMisfire
            : car.Faults.Any(f => f.Cause == ranked.Cause && f.At == ranked.At);
    }
}
