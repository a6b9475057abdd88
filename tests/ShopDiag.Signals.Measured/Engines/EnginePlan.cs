namespace ShopDiag.Signals.Measured.Engines;

/// <summary>A cylinder held off from one time to another, seconds.</summary>
internal sealed record Held(int Cylinder, double From, double To);

/// <summary>How firmly the engine's own control holds the idle.</summary>
internal enum IdleHold
{
    None,
    Usual,
    Strong,
}

/// <summary>An engine that idles while its cylinders are cancelled in turn.</summary>
internal sealed record EnginePlan
{
    public required int Cylinders { get; init; }

    public required double IdleRpm { get; init; }

    /// <summary>Share of the mean work that each cylinder does, in firing order; 0 is dead.</summary>
    public required double[] Strength { get; init; }

    public required Held[] Held { get; init; }

    public required double Seconds { get; init; }

    public IdleHold Hold { get; init; } = IdleHold.Usual;

    /// <summary>Standard deviation of the work from firing to firing, share of it.</summary>
    public double Scatter { get; init; } = 0.06;

    /// <summary>Standard deviation of the load's slow wandering (over 2 s), share of the mean torque.</summary>
    public double Wander { get; init; } = 0.006;

    /// <summary>Share of the firings of each cylinder that do no work, at random, in firing order; empty for none.</summary>
    public double[] Misfires { get; init; } = [];

    /// <summary>Amplitude of a hunting of the idle, share of the torque, each 4 s.</summary>
    public double Hunting { get; init; }

    /// <summary>
    /// A balance run: each cylinder once in firing order, held for 2.5 to 4 s, with 4.5 to 6.5 s between. One cylinder does half of the work of the others.
    /// </summary>
    public static EnginePlan Balance(int cylinders, double idleRpm, int seed)
    {
        var random = new Random(seed);
        var strength = Enumerable.Range(0, cylinders).Select(_ => 0.92 + (0.16 * random.NextDouble())).ToArray();
        strength[random.Next(cylinders)] = 0.5;
        var held = new List<Held>();
        var at = 5 + random.NextDouble();
        for (var c = 0; c < cylinders; c++)
        {
            var to = at + 2.5 + (1.5 * random.NextDouble());
            held.Add(new(c, at, to));
            at = to + 4.5 + (2 * random.NextDouble());
        }

        return new() { Cylinders = cylinders, IdleRpm = idleRpm, Strength = strength, Held = [.. held], Seconds = at };
    }
}
