using ShopDiag.Signals.Waveforms.Recognition;

namespace ShopDiag.Web.Waveforms;

/// <summary>Words for kinds of waveforms, and what to beware of while recording them.</summary>
public static class WaveformWords
{
    /// <summary>The kind as a person says it.</summary>
    public static string Name(WaveformKind kind) => kind switch
    {
        WaveformKind.CrankingCurrent => "Cranking current",
        WaveformKind.CrankSensor => "Crank sensor voltage",
        WaveformKind.ToothTimes => "Times of crank teeth",
        WaveformKind.InjectorCurrent => "Injector current",
        WaveformKind.CoilCurrent => "Coil primary current",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    /// <summary>What can hurt whoever records a waveform. Common practice; the maker's procedure goes before it.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Lay clamp and leads before the engine turns, clear of belts, fans and hot parts; someone you can see works the key.",
        "Cranking: disable the fuel the maker's way, ten seconds at most, then let the starter cool.",
        "Ignition: clamp round the low-voltage wire of the primary only. The high-voltage side can kill, and destroys the instrument.",
        "Direct injectors are driven with up to 100 V and stand under high fuel pressure: clamp round the wire, never pierce it, never unplug it while the engine runs.",
        "Hybrid and electric: orange cables carry lethal voltage; no clamp and no hand near them.",
        "Running engine: lead the exhaust gas outside.",
        "The maker's procedure goes before all of this.",
    ];
}
