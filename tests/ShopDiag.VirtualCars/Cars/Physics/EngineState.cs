using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>What is fixed on an engine of this build: figures that no fault changes.</summary>
/// <param name="CompressionKPa">Compression of a tight cylinder at cranking speed.</param>
/// <param name="RailKPa">Fuel pressure.</param>
/// <param name="MetersAir">True where the air is metered at the inlet, false where it is computed from manifold pressure.</param>
/// <param name="HasEgr">True with an EGR valve.</param>
/// <param name="Hydraulic">True where the lash adjusts itself.</param>
/// <param name="CoilsMeasurable">True where the coil windings can be measured at the pins.</param>
/// <param name="CoilCodes">True where the computer watches the coil circuits.</param>
/// <param name="HoldsTrims">True where the computer stops correcting while it counts misfires.</param>
/// <param name="Kilometres">Distance on the clock.</param>
internal sealed record Build(
    double CompressionKPa, double RailKPa, bool MetersAir, bool HasEgr, bool Hydraulic, bool CoilsMeasurable, bool CoilCodes, bool HoldsTrims, double Kilometres);

/// <summary>The hidden state of an engine.</summary>
internal sealed class EngineState
{
    public required Engine Engine { get; init; }

    public required Build Build { get; init; }

    public required ImmutableArray<CylinderState> Cylinders { get; init; }

    public double SystemVolts { get; set; } = 14.1;
    public double GroundDropVolts { get; set; } = 0.05;
    public double RailShare { get; set; } = 1;
    public double RailShareAtFlow { get; set; } = 1;
    public double RailHolds { get; set; } = 0.93;
    public double AirflowErrorLow { get; set; }
    public double AirflowErrorHigh { get; set; }
    public double CommonLeakMm2 { get; set; }
    public double EgrAtIdle { get; set; }
    public double FuelQuality { get; set; } = 1;
    public bool WaterInFuel { get; set; }
    public double CrankDropout { get; set; }
    public double CrankDropoutHot { get; set; }

    /// <summary>True when somebody worked on the engine not long ago.</summary>
    public bool RecentWork { get; set; }

    /// <summary>How far the exhaust of each bank is stopped up, 0 to 1.</summary>
    public required ImmutableArray<double> Restriction { get; set; }

    /// <summary>Crank degrees that the cam of each bank is off.</summary>
    public required ImmutableArray<double> CamOff { get; set; }

    /// <summary>The state of a cylinder by its number.</summary>
    public CylinderState this[int cylinder] => Cylinders[cylinder - 1];

    public double CamOffAt(int cylinder) => CamOff[Engine.BankOf(cylinder) - 1];

    public double RestrictionAt(int cylinder) => Restriction[Engine.BankOf(cylinder) - 1];

    public EngineState Copy()
    {
        var cylinders = Cylinders.Select(c => c.Copy()).ToImmutableArray();
        return new EngineState
        {
            Engine = Engine, Build = Build, Cylinders = cylinders, CamOff = CamOff,
            SystemVolts = SystemVolts, GroundDropVolts = GroundDropVolts, RailShare = RailShare, RailShareAtFlow = RailShareAtFlow, RailHolds = RailHolds,
            AirflowErrorLow = AirflowErrorLow, AirflowErrorHigh = AirflowErrorHigh, CommonLeakMm2 = CommonLeakMm2, EgrAtIdle = EgrAtIdle,
            Restriction = Restriction, FuelQuality = FuelQuality, WaterInFuel = WaterInFuel, CrankDropout = CrankDropout, CrankDropoutHot = CrankDropoutHot, RecentWork = RecentWork,
        };
    }
}
