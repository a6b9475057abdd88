using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Recognition;

/// <summary>What a person says of a recording and the engine it is of. What is not said is found out where that is possible.</summary>
public sealed record WaveformRequest
{
    /// <summary>What it shows; null to guess.</summary>
    public WaveformKind? Kind { get; init; }

    /// <summary>The channel that shows it, from 1 on; null to guess.</summary>
    public int? Channel { get; init; }

    /// <summary>Number of cylinders; null where not known.</summary>
    public int? Cylinders { get; init; }

    /// <summary>Firing order; empty where not known.</summary>
    public ImmutableArray<int> Order { get; init; } = [];

    /// <summary>The channel with the ignition or injection of one cylinder, from 1 on; null for none.</summary>
    public int? SyncChannel { get; init; }

    /// <summary>The cylinder that <see cref="SyncChannel"/> belongs to.</summary>
    public int SyncCylinder { get; init; } = 1;

    /// <summary>Degrees of crank from the sync's pulse to top dead centre of its cylinder. About 5 for ignition while cranking: common practice.</summary>
    public double SyncDegreesBefore { get; init; } = 5;

    /// <summary>True where all cylinders fire the same angle after one another; the models of cranking and of teeth know no others.</summary>
    public bool EvenFire { get; init; } = true;

    /// <summary>The wheel of a crank sensor such as <c>60-2</c>, or <c>36</c> for one without a gap; null to find out.</summary>
    public string? Wheel { get; init; }

    /// <summary>Degrees of crank from the first tooth after the gap to top dead centre of the cylinder that is first in the firing order: the maker's figure, 0 to 360. Null where it is not known.</summary>
    public double? TopAfterGap { get; init; }

    /// <summary>Seconds of the recording, from and to, in which nothing burned: rolling down with the fuel cut. From them it is learnt where the teeth truly stand, and they are not judged. Null for none.</summary>
    public (double From, double To)? NoFuel { get; init; }

    /// <summary>Amps for each volt of the clamp; null where the channel is in amps.</summary>
    public double? AmpsPerVolt { get; init; }

    /// <summary>Volts at the winding's feed; null when not measured.</summary>
    public double? SupplyVolts { get; init; }

    /// <summary>The current of a winding.</summary>
    internal CurrentOptions Current(int channel) => new() { Channel = channel, AmpsPerVolt = AmpsPerVolt, SupplyVolts = SupplyVolts };

    /// <summary>What contradicts itself; null when nothing does.</summary>
    public InputError? Problem()
    {
        if (Cylinders is < 1 or > 16)
        {
            return new InputError("cylinders", "The number of cylinders is 1 to 16.");
        }

        if (!Order.IsEmpty && !Order.Order().SequenceEqual(Enumerable.Range(1, Order.Length)))
        {
            return new InputError("order", "The firing order names each cylinder from 1 on once.");
        }

        if (Cylinders is { } count && !Order.IsEmpty && Order.Length != count)
        {
            return new InputError("order", $"The firing order has {Order.Length} cylinders, not {count}.");
        }

        return AmpsPerVolt is <= 0 ? new InputError("amps-per-volt", "The clamp's amps a volt are above 0.")
            : SupplyVolts is <= 0 or > 400 ? new InputError("volts", "The supply is above 0 and up to 400 V.")
            : SyncDegreesBefore is < -360 or > 360 ? new InputError("sync-degrees", "The sync is -360 to 360 degrees before top dead centre.")
            : TopAfterGap is < 0 or > 360 ? new InputError("top", "Top dead centre is 0 to 360 degrees after the gap.")
            : NoFuel is { } cut && !(cut.From >= 0 && cut.To > cut.From) ? new InputError("no-fuel", "The stretch without fuel is written as seconds from and to, such as 12-14.5.")
            : SyncCylinder < 1 || SyncCylinder > (Cylinders ?? 16) ? new InputError("sync-cylinder", $"There is no cylinder {SyncCylinder}.")
            : null;
    }
}
