namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>How the engine is run.</summary>
internal enum Condition
{
    /// <summary>Warm, at idle.</summary>
    Idle,

    /// <summary>Warm, pulling.</summary>
    Load,

    /// <summary>The first minutes after a night outside.</summary>
    Cold,

    /// <summary>Soaked through with heat after a long run.</summary>
    Hot,

    /// <summary>In rain or damp.</summary>
    Wet,
}

/// <summary>The share of its firings, 0 to 1, that a cylinder loses in each condition.</summary>
internal readonly record struct Duty(double Idle, double Load, double Cold, double Hot, double Wet)
{
    /// <summary>All conditions.</summary>
    public static IReadOnlyList<Condition> Conditions { get; } = Enum.GetValues<Condition>();

    /// <summary>The share in one condition.</summary>
    public double this[Condition condition] => condition switch
    {
        Condition.Idle => Idle,
        Condition.Load => Load,
        Condition.Cold => Cold,
        Condition.Hot => Hot,
        Condition.Wet => Wet,
        _ => throw new InvalidOperationException($"Unknown condition {condition}."),
    };

    /// <summary>The largest share of any condition.</summary>
    public double Most => Math.Max(Math.Max(Math.Max(Idle, Load), Math.Max(Cold, Hot)), Wet);

    /// <summary>Scaled, never above 1.</summary>
    public Duty Times(double factor) => new(
        Math.Min(1, Idle * factor), Math.Min(1, Load * factor), Math.Min(1, Cold * factor), Math.Min(1, Hot * factor), Math.Min(1, Wet * factor));

    /// <summary>What two reasons to misfire come to together when neither knows of the other.</summary>
    public Duty With(Duty other) => new(
        Both(Idle, other.Idle), Both(Load, other.Load), Both(Cold, other.Cold), Both(Hot, other.Hot), Both(Wet, other.Wet));

    private static double Both(double one, double other) => 1 - ((1 - one) * (1 - other));
}

/// <summary>One way in which a fault goes about: how often it comes as this, its duty at full severity, and how often it is there at all.</summary>
/// <param name="Weight">Weight among the fault's habits.</param>
/// <param name="Duty">Duty at full severity.</param>
/// <param name="Presence">Chance that a test in the shop meets the fault awake; below 1 for one that comes and goes.</param>
internal sealed record Habit(double Weight, Duty Duty, double Presence = 1);
