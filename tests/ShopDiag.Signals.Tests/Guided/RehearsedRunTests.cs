using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Measured.Guided;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Guided;

public sealed class RehearsedRunTests
{
    [Fact]
    public void Heard_live_and_measured_afterwards_a_dead_cylinder_is_told_from_the_others()
    {
        var run = new RehearsedRun { Plan = new() { Order = [1, 4, 2, 3], RestSeconds = 5, Listens = true }, Strength = [1, 0, 1.04, 0.96], Seed = 72 };

        var (sound, guide, held) = run.Play();
        var trace = SoundSpeed.Follow(sound, run.Rate, EngineToHear.Create(4, run.RoughRpm).Value);
        var found = CancellationFinder.Find(trace, new() { Cylinders = 4, Times = [.. RehearsedRun.Times(guide)] });

        Assert.Equal(RunPhase.Done, guide.Phase);
        Assert.Equal([1, 4, 2, 3], guide.Passes.Select(p => p.Cylinder));
        Assert.All(guide.Passes.Zip(held), p => Assert.InRange(p.Second.From - p.First.From, 0, 2));
        Assert.Equal([(1, DropKind.Heard), (4, DropKind.Heard), (2, DropKind.NoDrop), (3, DropKind.Heard)], found.Drops.Select(d => (d.Cylinder!.Value, d.Kind)));
        Assert.True(found.Usable, string.Join(" ", found.Reasons));
        Assert.All(found.Drops, d => Assert.Equal(d.Cylinder == 2, d.Drop < 60));
    }
}
