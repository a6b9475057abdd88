using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms.Coil;
using ShopDiag.Signals.Waveforms.Cranking;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Injector;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Waveforms.Recognition;

/// <summary>A moment of a recording that a drawing marks, such as a cylinder's compression.</summary>
/// <param name="Seconds">On the file's clock.</param>
/// <param name="Label">A word or a number to stand beside it.</param>
public sealed record WaveformMark(double Seconds, string Label);

/// <summary>What a recording comes to, whatever it shows.</summary>
public sealed record WaveformAnalysis
{
    /// <summary>What it shows.</summary>
    public required WaveformKind Kind { get; init; }

    /// <summary>The channel, from 1 on; 0 for times alone.</summary>
    public required int Channel { get; init; }

    /// <summary>Why it was taken for that; empty where a person said so.</summary>
    public string Because { get; init; } = "";

    /// <summary>Moments to mark, in order of time.</summary>
    public ImmutableArray<WaveformMark> Marks { get; init; } = [];

    /// <summary>In firing order; empty unless it is a cranking.</summary>
    public ImmutableArray<CylinderCompression> Compression { get; init; } = [];

    /// <summary>True where what was found must not be taken without a second look; the reasons say why.</summary>
    public bool Doubtful { get; init; }

    /// <summary>Misfires and work, in firing order; empty unless it is of crank teeth.</summary>
    public ImmutableArray<CylinderWork> Work { get; init; } = [];

    /// <summary>Injector current; null for anything else.</summary>
    public InjectorCurrent? Injector { get; init; }

    /// <summary>Coil current; null for anything else.</summary>
    public CoilCurrent? Coil { get; init; }

    /// <summary>What was found, in sentences.</summary>
    public required ImmutableArray<string> Findings { get; init; }

    /// <summary>What could not be told and why, and what should be known of how it was read.</summary>
    public required ImmutableArray<string> Reasons { get; init; }

    /// <summary>More marks than this are no help to the eye.</summary>
    internal const int MostMarks = 400;

    /// <summary>Analyses a recording as what it is said to be or looks like; the error says what is missing and where to say it.</summary>
    public static Parsed<WaveformAnalysis> Of(WaveformFile file, WaveformRequest request)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(request);
        if (request.Problem() is { } problem)
        {
            return problem;
        }

        var guess = request is { Kind: { } said, Channel: { } channel } ? new WaveformGuess(said, channel, "") : WaveformGuesser.Guess(file);
        var kind = request.Kind ?? guess.Kind;
        if (kind is null)
        {
            return new InputError("kind", guess.Reason);
        }

        if ((file.Waveform is null) != (kind == WaveformKind.ToothTimes))
        {
            return new InputError("kind", file.Waveform is null ? "The file holds times alone: it can only be the times of teeth." : "The file holds samples, not the times of teeth: take it for a crank sensor's voltage.");
        }

        if (file.Waveform is { } samples && new[] { request.Channel, request.SyncChannel }.Any(c => c < 1 || c > samples.Channels.Count))
        {
            return new InputError("channel", $"The file has channels 1 to {samples.Channels.Count}.");
        }

        var at = request.Channel ?? (guess.Kind == kind && guess.Channel > 0 ? guess.Channel : 1);
        var because = request.Kind is null ? guess.Reason : "";
        var analysis = kind.Value switch
        {
            WaveformKind.InjectorCurrent => OfInjector(file.Waveform!, at, request),
            WaveformKind.CoilCurrent => OfCoil(file.Waveform!, at, request),
            WaveformKind.CrankingCurrent => CrankAnalysis.OfCranking(file.Waveform!, at, request),
            WaveformKind.CrankSensor => CrankAnalysis.OfSensor(file.Waveform!, at, request),
            WaveformKind.ToothTimes => CrankAnalysis.OfTimes(file.EventSeconds, [], request),
            _ => throw new InvalidOperationException($"Unknown kind {kind}."),
        };
        return analysis.IsValid ? analysis.Value with { Because = because, Reasons = [.. file.Remarks, .. analysis.Value.Reasons] } : analysis;
    }

    private static Parsed<WaveformAnalysis> OfInjector(Waveform waveform, int channel, WaveformRequest request)
    {
        var injector = InjectorCurrent.Analyse(waveform, request.Current(channel));
        return injector.Error is { } error ? error : new WaveformAnalysis
        {
            Kind = WaveformKind.InjectorCurrent,
            Channel = channel,
            Injector = injector.Value,
            Findings = injector.Value.Findings,
            Reasons = injector.Value.Reasons,
            Marks = [.. injector.Value.Pulses.Where(p => p.OpenSeconds is not null).Take(MostMarks).Select(p => new WaveformMark(p.StartSeconds + p.OpenSeconds!.Value, "open"))],
        };
    }

    private static Parsed<WaveformAnalysis> OfCoil(Waveform waveform, int channel, WaveformRequest request)
    {
        var coil = CoilCurrent.Analyse(waveform, request.Current(channel));
        return coil.Error is { } error ? error : new WaveformAnalysis
        {
            Kind = WaveformKind.CoilCurrent,
            Channel = channel,
            Coil = coil.Value,
            Findings = coil.Value.Findings,
            Reasons = coil.Value.Reasons,
            Marks = [.. coil.Value.Pulses.Take(MostMarks).Select(p => new WaveformMark(p.StartSeconds + p.DwellSeconds, "spark"))],
        };
    }
}
