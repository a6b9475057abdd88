using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// What is short of sound at one cylinder, as plain shares from 0 (sound) to 1 (gone) unless a unit is named. The instruments read from these.
/// </summary>
internal sealed class CylinderBody
{
    /// <summary>Share of the spark that does not reach a tester in place of the plug.</summary>
    public double SparkLoss { get; set; }

    /// <summary>Share of the coil's supply that is lost under a small load.</summary>
    public double FeedLoss { get; set; }

    /// <summary>Share of the coil's trigger pulses that is missing.</summary>
    public double ControlLoss { get; set; }

    /// <summary>The coil's windings against sound ones: 0 as they should be, -1 shorted, above 50 open.</summary>
    public double PrimaryOff { get; set; }

    /// <summary>As <see cref="PrimaryOff"/>, of the secondary.</summary>
    public double SecondaryOff { get; set; }

    /// <summary>Plug gap beyond the maker's, millimetres.</summary>
    public double GapExtraMm { get; set; }

    /// <summary>What the plug looks like, each look with its strength.</summary>
    public List<(string Look, double Strength)> PlugLooks { get; } = [];

    /// <summary>Share of the fuel that is missing.</summary>
    public double FuelLack { get; set; }

    /// <summary>Fuel too much, as a share of what is right.</summary>
    public double FuelExcess { get; set; }

    /// <summary>How far the injector's tick is off: 0 as the others, 1 silent.</summary>
    public double TickOff { get; set; }

    /// <summary>As <see cref="PrimaryOff"/>, of the injector's winding.</summary>
    public double InjectorOff { get; set; }

    /// <summary>Share of the injector's pulses that is missing.</summary>
    public double PulseLoss { get; set; }

    /// <summary>Strength of an injector that is held on.</summary>
    public double HeldOn { get; set; }

    /// <summary>Strength of an air leak at the runner.</summary>
    public double AirLeak { get; set; }

    /// <summary>Share of the charge that a leak past the intake valve takes.</summary>
    public double ToIntake { get; set; }

    /// <summary>Share of the charge that a leak past the exhaust valve takes.</summary>
    public double ToExhaust { get; set; }

    /// <summary>Share of the charge that a leak past the rings takes.</summary>
    public double ToCrankcase { get; set; }

    /// <summary>Share of the charge that a leak into the coolant takes.</summary>
    public double ToCoolant { get; set; }

    /// <summary>Share of the charge that a leak into the next cylinder takes.</summary>
    public double ToNeighbour { get; set; }

    /// <summary>Share of the leaks' loss that a spoonful of oil gives back.</summary>
    public double OilSeals { get; set; }

    /// <summary>Share of the charge that never comes in while cranking.</summary>
    public double CrankFillLoss { get; set; }

    /// <summary>Share of the charge that is missing at idle for want of breathing.</summary>
    public double IdleFillLoss { get; set; }

    /// <summary>Share of the charge that is missing at a snap of the throttle for want of breathing.</summary>
    public double SnapFillLoss { get; set; }

    /// <summary>Share of the intake valve's lift that is lost.</summary>
    public double IntakeLiftLoss { get; set; }

    /// <summary>Share of the exhaust valve's lift that is lost.</summary>
    public double ExhaustLiftLoss { get; set; }

    /// <summary>Clearance of the intake valve beside the maker's, millimetres; negative is tight.</summary>
    public double IntakeClearanceMm { get; set; }

    /// <summary>Clearance of the exhaust valve beside the maker's, millimetres; negative is tight.</summary>
    public double ExhaustClearanceMm { get; set; }

    /// <summary>What a borescope meets in there, each with its strength.</summary>
    public List<(string Seen, double Strength)> Inside { get; } = [];

    /// <summary>Exhaust hotter than a sound cylinder's, kelvin, misfiring not counted.</summary>
    public double RunnerKelvin { get; set; }

    /// <summary>The charge that all leaks together take.</summary>
    public double Leaks => 1 - ((1 - ToIntake) * (1 - ToExhaust) * (1 - ToCrankcase) * (1 - ToCoolant) * (1 - ToNeighbour));
}

/// <summary>What is off at a bank.</summary>
internal sealed class BankBody
{
    /// <summary>Fuel correction at idle, percent, beside what its misfires make of it.</summary>
    public double TrimIdle { get; set; }

    /// <summary>Fuel correction at 2500 rpm, percent.</summary>
    public double TrimFast { get; set; }

    /// <summary>How far the cams are from their place.</summary>
    public double CamOff { get; set; }

    /// <summary>How stopped up the exhaust is.</summary>
    public double ExhaustStopped { get; set; }
}

/// <summary>What is off at the engine as a whole.</summary>
internal sealed class EngineBody
{
    /// <summary>Share of the rail pressure that is missing.</summary>
    public double PressureLoss { get; set; }

    /// <summary>Share of the rail pressure gone five minutes after the key, beyond the usual.</summary>
    public double BleedDown { get; set; }

    /// <summary>Strength of an air leak that all cylinders share.</summary>
    public double AirLeak { get; set; }

    /// <summary>Manifold vacuum lost, kilopascal.</summary>
    public double VacuumLossKPa { get; set; }

    /// <summary>What the vacuum needle would do, each with its strength.</summary>
    public List<(string Needle, double Strength)> Needles { get; } = [];

    /// <summary>Volts lost in the engine's ground.</summary>
    public double GroundDropVolts { get; set; }

    /// <summary>Volts missing at the battery while running.</summary>
    public double SupplyDropVolts { get; set; }

    /// <summary>Strength of exhaust gas that comes back when it should not.</summary>
    public double EgrOpen { get; set; }

    /// <summary>Strength of combustion gas in the coolant.</summary>
    public double GasInCoolant { get; set; }

    /// <summary>What else than fuel is in the tank, and how much of it.</summary>
    public (string Seen, double Strength) FuelDirt { get; set; } = ("clean", 0);

    /// <summary>How much the crank sensor's signal breaks up.</summary>
    public double CrankSignalLoss { get; set; }
}

/// <summary>The whole engine as it stands for one reading: wear and faults added up.</summary>
internal sealed class Body
{
    private readonly CylinderBody[] _cylinders;
    private readonly BankBody[] _banks;

    /// <summary>A sound, new one.</summary>
    public Body(Engine engine)
    {
        Engine = engine;
        _cylinders = [.. Enumerable.Range(0, engine.CylinderCount).Select(_ => new CylinderBody())];
        _banks = [.. Enumerable.Range(0, engine.Banks.Length).Select(_ => new BankBody())];
    }

    /// <summary>The engine.</summary>
    public Engine Engine { get; }

    /// <summary>What all share.</summary>
    public EngineBody Common { get; } = new();

    /// <summary>One cylinder.</summary>
    public CylinderBody this[int cylinder] => _cylinders[cylinder - 1];

    /// <summary>One bank, from 1.</summary>
    public BankBody Bank(int bank) => _banks[bank - 1];

    /// <summary>All banks.</summary>
    public IEnumerable<BankBody> Banks => _banks;

    /// <summary>Two losses that neither know of the other.</summary>
    public static double Join(double one, double other) => 1 - ((1 - Math.Clamp(one, 0, 1)) * (1 - Math.Clamp(other, 0, 1)));
}
