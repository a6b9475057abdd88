using System.Collections.Immutable;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>How a hidden state runs over all conditions of ordinary driving: what the customer feels and what the computer can notice.</summary>
internal sealed class Driving
{
    /// <summary>
    /// A cylinder that misfires more often than this is felt, and brings the car in: about what OBD must find, 1 to 2 % of all firings of a four.
    /// </summary>
    public const double Felt = 0.05;

    private readonly Dictionary<Condition, Running> _running;

    public Driving(EngineState engine)
    {
        Engine = engine;
        _running = Condition.All.ToDictionary(c => c, c => Combustion.At(engine, c));
    }

    /// <summary>The hidden state.</summary>
    public EngineState Engine { get; }

    /// <summary>True when it misfires under some condition of ordinary driving.</summary>
    public bool Misfires => When.Any();

    /// <summary>The conditions under which it misfires.</summary>
    public IEnumerable<Condition> When => Condition.All.Where(c => _running[c].Worst > Felt);

    /// <summary>How it runs at a condition.</summary>
    public Running At(Condition condition) => _running[condition];

    /// <summary>The words of the trade under which somebody feels it: each right one is named with a chance, a wrong one now and then.</summary>
    public ImmutableArray<string> Words(Random random, double named, double slip)
    {
        var right = When.Select(c => c.Name == "speed" ? "load" : c.Name).ToHashSet();
        if (right.IsSupersetOf(["idle", "load", "cold"]) && random.Happens(0.7))
        {
            return Engine.RecentWork && random.Happens(named) ? ["always", "after-work"] : ["always"];
        }

        var work = Engine.RecentWork && random.Happens(named + 0.1);
        string[] words = ["idle", "load", "cold", "hot", "wet"];
        // Damp weather comes seldom, so it is noticed less often.
        var felt = words.Where(w => random.Happens(!right.Contains(w) ? slip : w is "wet" or "hot" ? named * 0.6 : named)).ToArray();
        return [.. work ? felt.Append("after-work") : felt];
    }
}
