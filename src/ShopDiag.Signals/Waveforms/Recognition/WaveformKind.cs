namespace ShopDiag.Signals.Waveforms.Recognition;

/// <summary>What a recording shows.</summary>
public enum WaveformKind
{
    /// <summary>Current to the starter while the engine is cranked and does not start.</summary>
    CrankingCurrent,

    /// <summary>Voltage of a crankshaft sensor.</summary>
    CrankSensor,

    /// <summary>The times at which the teeth of the crank wheel pass.</summary>
    ToothTimes,

    /// <summary>Current through an injector.</summary>
    InjectorCurrent,

    /// <summary>Current through the primary winding of an ignition coil.</summary>
    CoilCurrent,
}

/// <summary>What a recording is taken for, and why.</summary>
/// <param name="Kind">Null when it looks like nothing that is known.</param>
/// <param name="Channel">The channel that shows it, from 1 on; 0 for times alone.</param>
/// <param name="Reason">Why, in a sentence a person can judge.</param>
public sealed record WaveformGuess(WaveformKind? Kind, int Channel, string Reason);
