using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>
/// Small worlds drawn by seed, so that the program is not measured on ten chosen ones alone: four to six causes, each with a proof of its own or one shared with another,
/// one or two screens that prove nothing, minutes and access at random. The same seed gives the same world.
/// </summary>
internal static class DrawnWorlds
{
    /// <summary>The world of a seed.</summary>
    public static SmallWorld Draw(int seed) => new Drawing(new Random(seed), seed).World();

    private sealed class Drawing(Random random, int seed)
    {
        private readonly List<Screen> _screens = [];
        private readonly List<ProofTest> _proofs = [];

        public SmallWorld World()
        {
            var causes = random.Next(4, 7);
            DrawProofs(causes);
            DrawScreens(causes);
            var builder = new WorldBuilder(string.Create(CultureInfo.InvariantCulture, $"drawn {seed}"), "drawn by seed")
                .TakingOff(random.Next(3, 11), random.Next(10, 31), random.Next(3) == 0 ? random.Next(5, 21) : 0);
            AddTests(builder);
            var weights = Enumerable.Range(0, causes).Select(_ => -Math.Log(1 - random.NextDouble()) + 0.15).ToArray();
            for (var c = 0; c < causes; c++)
            {
                AddCause(builder, c, weights[c] / weights.Sum());
            }

            return builder.Build();
        }

        // The first two causes share a proof in half of the worlds: one reading that names either.
        private void DrawProofs(int causes)
        {
            var shared = random.Next(2) == 0;
            for (var c = 0; c < causes; c++)
            {
                if (shared && c == 1)
                {
                    _proofs[0].Proves.Add(1);
                    continue;
                }

                _proofs.Add(new ProofTest($"proof-{c + 1}", random.Next(2, 31), DrawAccess(), [c]));
            }
        }

        private void DrawScreens(int causes)
        {
            var screens = random.Next(1, 8 - _proofs.Count > 2 ? 3 : 2);
            for (var s = 0; s < screens; s++)
            {
                var speaks = Enumerable.Range(0, causes).Where(_ => random.Next(2) == 0).ToImmutableArray();
                _screens.Add(new Screen($"screen-{s + 1}", random.Next(2, 9), random.Next(4) == 0 ? Access.PlugsOut : Access.None, 0.6 + (0.35 * random.NextDouble()), 0.02 + (0.2 * random.NextDouble()), speaks));
            }
        }

        private Access DrawAccess() => random.Next(6) switch { 0 or 1 => Access.PlugsOut, 2 => Access.Coils, 3 => Access.ValveCover, _ => Access.None };

        private void AddTests(WorldBuilder builder)
        {
            foreach (var screen in _screens)
            {
                builder.Test(screen.Id, screen.Minutes, screen.Access, 0.02, ("seen", screen.Sound), ("not-seen", 1 - screen.Sound));
            }

            foreach (var proof in _proofs)
            {
                builder.Test(proof.Id, proof.Minutes, proof.Access, 0.02, [.. proof.Proves.Select(c => (Names(c), 0.01)), ("sound", 1 - (0.01 * proof.Proves.Count))]);
            }
        }

        private void AddCause(WorldBuilder builder, int cause, double weight)
        {
            var proof = _proofs.Single(p => p.Proves.Contains(cause));
            double[] named = [.. proof.Proves.Select(c => c == cause ? 0.94 : 0.02)];
            var screens = _screens.Where(s => s.Speaks.Contains(cause)).Select(s => (s.Id, (double[])[s.Power, 1 - s.Power]));
            builder.Cause($"cause-{cause + 1}", weight, [.. screens, (proof.Id, [.. named, 1 - named.Sum()])]);

            // In a third of the causes the proof asks for the screen as well, as a low compression and a leak-down belong together.
            if (random.Next(3) == 0 && _screens.FirstOrDefault(s => s.Speaks.Contains(cause)) is { } asked)
            {
                builder.Proof((asked.Id, "seen"), (proof.Id, Names(cause)));
                return;
            }

            builder.Proof((proof.Id, Names(cause)));
        }

        private static string Names(int cause) => $"names-{cause + 1}";
    }

    private sealed record Screen(string Id, double Minutes, Access Access, double Power, double Sound, ImmutableArray<int> Speaks);

    private sealed record ProofTest(string Id, double Minutes, Access Access, List<int> Proves);
}
