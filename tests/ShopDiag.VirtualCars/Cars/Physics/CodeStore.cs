using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>
/// The codes that the computer stores over two trips, as OBD sets them: misfires counted over blocks of 1000 revolutions against a share of all
/// firings, circuits watched electrically, mixture by the corrections. 13 CCR 1968.2(e)(3) in outline; what a computer misses is drawn.
/// </summary>
internal sealed class CodeStore(Driving driving, Random random)
{
    /// <summary>Misfires as a share of all firings from which a code is stored.</summary>
    private const double EmissionShare = 0.015;

    private static readonly string[] OldCodes = ["P0442", "P0420", "P0128", "P0455", "P0113", "P0031"];

    private readonly EngineState _engine = driving.Engine;

    private int N => _engine.Engine.CylinderCount;

    /// <summary>The stored codes in order.</summary>
    public ImmutableArray<string> Codes() =>
        [.. Misfires().Concat(Circuits()).Concat(Mixture()).Concat(Sensors()).Concat(Old()).Distinct().Order(StringComparer.Ordinal)];

    private List<string> Misfires()
    {
        var shares = new double[N];
        foreach (var condition in Condition.All.Where(c => c != Condition.Damp || random.Happens(0.3)))
        {
            var running = driving.At(condition);
            // Hot soak and hard pulls are not part of every trip.
            var driven = condition == Condition.Hot || condition == Condition.Rev ? 0.5 : 0.93;
            if (running.Cylinders.Average(c => c.Misfire) * random.Between(0.8, 1.2) > EmissionShare && random.Happens(driven))
            {
                for (var c = 0; c < N; c++)
                {
                    shares[c] = Math.Max(shares[c], running.Cylinders[c].Misfire * random.Between(0.85, 1.15));
                }
            }
        }

        if (shares.All(s => s == 0))
        {
            return [];
        }

        var named = Enumerable.Range(1, N).Where(c => shares[c - 1] > Math.Max(0.03, 0.3 * shares.Max())).ToList();
        var codes = named.Count <= 3 || random.Happens(0.5) ? named.Where(_ => random.Happens(0.95)).Select(c => Code(300, c)).ToList() : [];
        if (named.Count > 2 || (named.Count == 2 && random.Happens(0.6)) || (named.Count == 1 && random.Happens(0.08)) || codes.Count == 0)
        {
            codes.Add("P0300");
        }

        // A hard misfire shakes the crank so that the next one to fire is counted too, now and then.
        if (named.Count == 1 && shares.Max() > 0.5 && random.Happens(0.06))
        {
            var order = _engine.Engine.FiringOrder;
            codes.Add(Code(300, order[(_engine.Engine.FiringPosition(named[0]) + 1) % N]));
        }

        return codes;
    }

    private IEnumerable<string> Circuits()
    {
        foreach (var c in _engine.Cylinders)
        {
            var primaryGone = c.ControlPresent < 0.5 || c.FeedPresent < 0.5 || c.FeedDropVolts > 6;
            if (_engine.Build.CoilCodes && (primaryGone ? random.Happens(0.75) : c.CoilDropout > 0.5 && random.Happens(0.3)))
            {
                yield return Code(350, CoilNumber(c.Number));
            }

            var injector = c.InjectorWinding == Winding.Open || c.InjectorControl < 0.5 || c.InjectorSteadyOn;
            if (_engine.Engine.Injection != Injection.ThrottleBody && (injector ? random.Happens(0.8) : c.InjectorWinding == Winding.ShortedTurns && random.Happens(0.4)))
            {
                yield return Code(200, c.Number);
            }
        }
    }

    private IEnumerable<string> Mixture()
    {
        var first = _engine.Engine.BankOf(1);
        for (var bank = 1; bank <= Math.Min(2, _engine.Engine.Banks.Length); bank++)
        {
            var (idle, speed) = (driving.At(Condition.Idle).Trims[bank - 1], driving.At(Condition.Speed).Trims[bank - 1]);
            var one = bank == first;
            if (Math.Max(idle, speed) > 0.22 && random.Happens(0.7))
            {
                yield return speed > 0.15 ? one ? "P0171" : "P0174" : one ? "P2187" : "P2189";
            }
            else if (Math.Min(idle, speed) < -0.20 && random.Happens(0.7))
            {
                yield return speed < -0.12 ? one ? "P0172" : "P0175" : one ? "P2188" : "P2190";
            }
        }
    }

    private IEnumerable<string> Sensors()
    {
        if (_engine.CrankDropout + _engine.CrankDropoutHot > 0.05 && random.Happens(0.7))
        {
            yield return random.Of(["P0335", "P0336", "P0339"]);
        }

        for (var bank = 1; bank <= _engine.CamOff.Length; bank++)
        {
            if (Math.Abs(_engine.CamOff[bank - 1]) > 10 && random.Happens(0.65))
            {
                yield return bank == _engine.Engine.BankOf(1) ? "P0016" : "P0018";
            }
        }

        if (_engine.EgrAtIdle > 0.1 && random.Happens(0.4))
        {
            yield return "P0402";
        }

        if (_engine.Engine.Injection == Injection.Direct && _engine.RailShare * _engine.RailShareAtFlow < 0.6 && random.Happens(0.7))
        {
            yield return "P0087";
        }

        if (_engine.SystemVolts < 11.2 && random.Happens(0.6))
        {
            yield return "P0562";
        }

        if (Math.Abs(_engine.AirflowErrorLow) > 0.3 && random.Happens(0.35))
        {
            yield return "P0101";
        }

        if (_engine.Restriction.Max() > 0.6 && random.Happens(0.3))
        {
            yield return "P0420";
        }
    }

    // What has nothing to do with it: a code from last year, seldom an old misfire code of any cylinder.
    private IEnumerable<string> Old()
    {
        if (random.Happens(0.15))
        {
            yield return random.Of(OldCodes);
        }

        if (random.Happens(0.015))
        {
            yield return Code(300, random.Next(1, N + 1));
        }
    }

    private int CoilNumber(int cylinder) => _engine.Engine.Ignition == Ignition.WasteSpark
        ? 1 + _engine.Engine.CompanionPairs.IndexOf(Place.Pair(cylinder, _engine.Engine.Companion(cylinder)!.Value))
        : cylinder;

    private static string Code(int hundred, int number) => string.Create(CultureInfo.InvariantCulture, $"P0{hundred + number:000}");
}
