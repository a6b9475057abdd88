using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>A kind of fault: where it can sit and what it does to the hidden state.</summary>
/// <param name="Cause">The stable id of the cause.</param>
/// <param name="Places">Where it can sit on an engine; none where it cannot be.</param>
/// <param name="Harm">Changes the state; how badly and how often it shows is drawn.</param>
internal sealed record FaultKind(string Cause, Func<Engine, IEnumerable<Place>> Places, Action<EngineState, Place, Random> Harm)
{
    /// <summary>How common it is among the cars that come in.</summary>
    public double Frequency => Frequencies.Of(Cause);

    /// <summary>Every kind that there is.</summary>
    public static IReadOnlyList<FaultKind> All { get; } =
        [.. IgnitionFaults.All, .. FuelFaults.All, .. AirFaults.All, .. MechanicalFaults.All];

    /// <summary>A kind that sits at one cylinder.</summary>
    public static FaultKind AtCylinder(string cause, Action<EngineState, CylinderState, Random> harm, Func<Engine, bool>? on = null) => new(
        cause,
        e => on?.Invoke(e) ?? true ? e.Cylinders.Select(Place.Cylinder) : [],
        (s, at, r) => harm(s, s[at.First], r));

    /// <summary>A kind that sits at the engine.</summary>
    public static FaultKind AtEngine(string cause, Action<EngineState, Random> harm, Func<Engine, bool>? on = null) => new(
        cause, e => on?.Invoke(e) ?? true ? [Place.Engine] : [], (s, _, r) => harm(s, r));
}

/// <summary>A fault in one car: its kind, its place and how it was drawn.</summary>
internal sealed record Defect(FaultKind Kind, Place At, int Seed)
{
    // Work by which somebody left the fault behind comes before some kinds more often than before others.
    private static readonly string[] LeftBehind = ["cam-timing-off", "plug-wire-open", "coil-control-lost", "injector-control-lost", "intake-leak-runner", "intake-leak-common"];

    public void Apply(EngineState state)
    {
        Kind.Harm(state, At, new Random(Seed));
        state.RecentWork |= LeftBehind.Contains(Kind.Cause) && new Random(Seed ^ 0x5eed).Happens(0.2);
    }
}
