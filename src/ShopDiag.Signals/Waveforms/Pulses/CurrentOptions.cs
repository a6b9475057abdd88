namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>What a person may say about a recorded current.</summary>
public sealed record CurrentOptions
{
    /// <summary>The channel, by number from 1 on.</summary>
    public int Channel { get; init; } = 1;

    /// <summary>Amps for each volt of a current clamp's output (10 for a clamp of 100 mV/A); null where the channel is in amps, or where only the shape counts.</summary>
    public double? AmpsPerVolt { get; init; }

    /// <summary>Volts at the winding's feed while it is driven; null when not measured: resistance and inductance are then left out.</summary>
    public double? SupplyVolts { get; init; }

    /// <summary>Volts that the switch keeps for itself. 0.4 V for a coil's output stage is common practice.</summary>
    public double DriverVolts { get; init; } = 0.4;
}
