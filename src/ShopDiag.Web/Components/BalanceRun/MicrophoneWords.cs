namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>What is to be said about the microphone, and what to do.</summary>
public static class MicrophoneWords
{
    private const string Otherwise = "Or record the run with the tablet's own recorder and send the file, or type the speeds.";

    /// <summary>Why it cannot listen.</summary>
    public static string Problem(string problem, string? detail) => problem switch
    {
        "insecure" => "A browser lets a page use the microphone only over https, and this page came over plain http. Start ShopDiag with --https and open the address that it prints. " + Otherwise,
        "none" => "This browser offers no microphone to a page. " + Otherwise,
        "refused" => "The microphone was refused. Allow it for this page in the browser's settings (the sign beside the address) and try again. " + Otherwise,
        "missing" => "This tablet has no microphone that the browser can find. Plug one in, " + char.ToLowerInvariant(Otherwise[0]) + Otherwise[1..],
        "busy" => "Another program has the microphone. Close it and try again. " + Otherwise,
        _ => $"The microphone could not be started{(string.IsNullOrWhiteSpace(detail) ? "" : $" ({detail})")}. " + Otherwise,
    };

    /// <summary>What the device does to the sound although it was asked not to; empty for nothing.</summary>
    public static string Processed(string[] processed)
    {
        ArgumentNullException.ThrowIfNull(processed);
        var names = processed.Select(p => p switch
        {
            "echoCancellation" => "cancels echoes",
            "noiseSuppression" => "takes noise away",
            "autoGainControl" => "turns the level up and down",
            _ => p,
        }).ToArray();
        return names.Length == 0 ? "" : $"This tablet {string.Join(" and ", names)} although it was asked not to. It may take the engine for noise: look whether the speed shown is right, and send a recording instead where it is not.";
    }
}
