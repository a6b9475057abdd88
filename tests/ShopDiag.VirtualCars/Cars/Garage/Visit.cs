using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>One reading being taken: the engine as it shows itself now, the shop, and the chance that goes with this reading alone.</summary>
internal sealed class Visit
{
    /// <summary>The engine's body with the faults that are awake.</summary>
    public required Body Body { get; init; }

    /// <summary>The faults that are awake.</summary>
    public required IReadOnlyList<GarageFault> Awake { get; init; }

    /// <summary>All faults that are left, awake or not.</summary>
    public required IReadOnlyList<GarageFault> Left { get; init; }

    /// <summary>The car's wear.</summary>
    public required Wear Wear { get; init; }

    /// <summary>The shop and its technician.</summary>
    public required Workshop Shop { get; init; }

    /// <summary>The maker's figures.</summary>
    public required MakersData Maker { get; init; }

    /// <summary>This reading's chance.</summary>
    public required Dice Dice { get; init; }

    /// <summary>Chance that all readings of one round of a test share: the run, the warmth of the engine.</summary>
    public required Dice Round { get; init; }

    /// <summary>Where the instrument is really held.</summary>
    public required Place At { get; init; }

    /// <summary>True where something outside the engine shakes the car.</summary>
    public required bool Shakes { get; init; }

    /// <summary>The engine.</summary>
    public Engine Engine => Body.Engine;

    /// <summary>The body of the cylinder it is held at.</summary>
    public CylinderBody Here => Body[At.First];

    /// <summary>Scatter of an instrument, larger in a hurry.</summary>
    public double Scatter(double scale) => Dice.Scatter(scale * Shop.Scatter);

    /// <summary>The duty of a cylinder, all faults that are awake together.</summary>
    public Duty DutyOf(int cylinder) => DutyOf(cylinder, Awake);

    /// <summary>The share of firings lost at warm idle.</summary>
    public double AtIdle(int cylinder) => DutyOf(cylinder).Idle;

    /// <summary>The share lost when the engine is run the way it misfires, as well as the shop can.</summary>
    public double AsComplained(int cylinder) => AsComplained(DutyOf(cylinder));

    /// <summary>As <see cref="AsComplained(int)"/>, after the parts of two cylinders have been exchanged.</summary>
    public double AfterSwap(int cylinder, Part part, int one, int other)
    {
        var comesFrom = cylinder == one ? other : cylinder == other ? one : cylinder;
        var stays = DutyOf(cylinder, Awake.Where(f => f.Kind.Travels != part));
        var comes = DutyOf(comesFrom, Awake.Where(f => f.Kind.Travels == part));
        return AsComplained(stays.With(comes));
    }

    private double AsComplained(Duty duty) => Duty.Conditions.Max(c => duty[c] * Shop.Reach[c]);

    private static Duty DutyOf(int cylinder, IEnumerable<GarageFault> faults) =>
        faults.Where(f => f.Duties.ContainsKey(cylinder)).Aggregate(default(Duty), (sum, f) => sum.With(f.Duties[cylinder]));
}
