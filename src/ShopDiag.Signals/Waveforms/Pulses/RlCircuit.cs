namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>Current through a winding: resistance and inductance in series. Voltages in V, resistances in ohm, inductances in H, times in s.</summary>
public static class RlCircuit
{
    /// <summary>Amps at a time after a voltage is switched on: (V/R)(1 - e^(-tR/L)).</summary>
    public static double Rise(double volts, double ohm, double henry, double seconds) => volts / ohm * (1 - Math.Exp(-seconds * ohm / henry));

    /// <summary>Amps at a time after the winding is shorted on itself: I0 e^(-tR/L).</summary>
    public static double Decay(double amps, double ohm, double henry, double seconds) => amps * Math.Exp(-seconds * ohm / henry);

    /// <summary>The time constant L/R, s.</summary>
    public static double Tau(double ohm, double henry) => henry / ohm;
}
