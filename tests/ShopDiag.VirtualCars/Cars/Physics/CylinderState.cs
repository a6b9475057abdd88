namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>How the winding of a coil or an injector is.</summary>
internal enum Winding
{
    Whole,
    Open,
    ShortedTurns,
}

/// <summary>What the eye sees on a plug that no other part of the state tells.</summary>
internal enum PlugMark
{
    None,
    Cracked,
    Tracked,
    Oil,
    Carbon,
    Coolant,
    Hammered,
    Oily,
}

/// <summary>The hidden state of one cylinder. What is set here is a sound cylinder; natural variation and faults change it.</summary>
internal sealed class CylinderState
{
    public required int Number { get; init; }

    // Ignition: kilovolts that the coil can reach at 13.8 V and 70 C, how much of it is left when hot, and firings on which it gives nothing.
    public double CoilKilovolts { get; set; } = 38;
    public double CoilShareHot { get; set; } = 0.97;
    public double CoilDropout { get; set; }
    public Winding CoilWinding { get; set; }
    public double FlashoverKilovolts { get; set; } = 70;
    public double FlashoverShareWet { get; set; } = 0.8;
    public bool FlashesOverInTheOpen { get; set; }
    public double LeadKilovolts { get; set; }
    public double FeedDropVolts { get; set; } = 0.1;
    public double FeedDropUnloadedShare { get; set; } = 0.5;
    public double FeedPresent { get; set; } = 1;
    public double ControlPresent { get; set; } = 1;

    /// <summary>The cylinder whose spark this one gets, where leads or connectors are crossed; 0 for its own.</summary>
    public int CrossedWith { get; set; }

    /// <summary>True when oil stands in the plug's well, so that a sound boot does not cure it.</summary>
    public bool OilInWell { get; set; }

    /// <summary>True when moving the connector may cure the ignition wiring for a while.</summary>
    public bool ConnectorLoose { get; set; }

    // Plug: gap, rounding of the electrodes, shunt across a dirty insulator.
    public double GapMm { get; set; } = 1.0;
    public double ElectrodeFactor { get; set; } = 1;
    public double ShuntMegohm { get; set; } = 200;
    public PlugMark Mark { get; set; }

    // Injector: share of the fuel that a new one gives, fuel that drips past it (share of idle fuel), share of pulses that arrive.
    public double Flow { get; set; } = 1;
    public double Drip { get; set; }
    public bool NeedleSticks { get; set; }
    public double InjectorOhm { get; set; } = 12.5;
    public Winding InjectorWinding { get; set; }
    public double InjectorControl { get; set; } = 1;
    public bool InjectorSteadyOn { get; set; }
    public double InjectorDropoutHot { get; set; }

    // Air and valves: areas in mm2, lift and clearance.
    public double RunnerLeakMm2 { get; set; }
    public double IntakeLift { get; set; } = 1;
    public double ExhaustLift { get; set; } = 1;
    public double IntakeClearanceMm { get; set; } = 0.20;
    public double ExhaustClearanceMm { get; set; } = 0.28;
    public double SpringWeakness { get; set; }
    public double Deposits { get; set; }

    // Sealing: leak areas in mm2 seen by the gas when warm.
    public double RingLeakMm2 { get; set; } = 0.30;
    public double HoleMm2 { get; set; }
    public double IntakeValveLeakMm2 { get; set; } = 0.02;
    public double ExhaustValveLeakMm2 { get; set; } = 0.03;
    public double NeighbourLeakMm2 { get; set; }
    public double CoolantLeakMm2 { get; set; }
    public bool WallScored { get; set; }
    public bool PistonBroken { get; set; }

    public CylinderState Copy() => (CylinderState)MemberwiseClone();

    /// <summary>Leak past the intake valve when warm; a valve without clearance does not seat.</summary>
    public double IntakeLeak(bool warm) => IntakeValveLeakMm2 + Held(IntakeClearanceMm, warm);

    /// <summary>Leak past the exhaust valve when warm; a valve without clearance does not seat.</summary>
    public double ExhaustLeak(bool warm) => ExhaustValveLeakMm2 + Held(ExhaustClearanceMm, warm);

    /// <summary>All leaks together.</summary>
    public double Leak(bool warm) =>
        RingLeakMm2 + HoleMm2 + IntakeLeak(warm) + ExhaustLeak(warm) + NeighbourLeakMm2 + CoolantLeakMm2;

    // The stem grows by about a tenth of a millimetre when warm; below that the valve is held open, at a seat of some 80 mm round.
    private static double Held(double clearanceMm, bool warm) => warm ? Math.Max(0, 0.09 - clearanceMm) * 60 : 0;
}
