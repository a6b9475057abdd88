using ShopDiag.Signals.Guided;
using ShopDiag.Web.BalanceRuns;

namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>What the large card says.</summary>
/// <param name="Eyebrow">A word or two above.</param>
/// <param name="Title">What to do, readable from two metres.</param>
/// <param name="Line">What is waited for.</param>
/// <param name="Cue">The cue in the browser, or null.</param>
public sealed record RunWords(string Eyebrow, string Title, string Line, string? Cue)
{
    /// <summary>The words of a run as it stands.</summary>
    public static RunWords Of(RunView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var cylinder = $"cylinder {view.Cylinder}";
        return view.Phase switch
        {
            RunPhase.Waiting => new(view.Passes.Length == 0 ? "First" : "Next", $"Cylinder {view.Cylinder}", Waiting(view), view.Passes.Length > 0 ? "back" : null),
            RunPhase.Ready => new("Get ready", $"Cylinder {view.Cylinder}", "Hand on its connector.", "ready"),
            RunPhase.Cancelling => new("Now", $"Cancel {cylinder}", "Listening for the drop.", "cancel"),
            RunPhase.Off => new("Off", $"Hold {cylinder} off", "The drop is there.", "off"),
            RunPhase.Restoring when view.Overdue => new("Late", $"Restore {cylinder}", "The speed has not come back. Is the cylinder connected again?", "late"),
            RunPhase.Restoring => new("Now", $"Restore {cylinder}", "Listening for the speed to come back.", "restore"),
            RunPhase.Paused => new("Paused", view.RestoreFirst is { } off ? $"Restore cylinder {off}" : "Paused", view.Silent ? "No sound arrives." : "Nothing is recorded meanwhile. Go on when you are ready.", view.RestoreFirst is null ? null : "restore"),
            RunPhase.Closing or RunPhase.Done when view.RestoreFirst is { } off => new("Stopped", $"Restore cylinder {off}", "It was off when the run was stopped.", "restore"),
            RunPhase.Closing => new("Last seconds", "Let it run", "The last recovery is being recorded.", "back"),
            RunPhase.Done => new("Done", "Everything connected?", "Working out the drops…", null),
            _ => throw new InvalidOperationException($"Unknown phase {view.Phase}."),
        };
    }

    private static string Waiting(RunView view) => view switch
    {
        { Rpm: null } => "Everything connected. Listening for the engine.",
        { Hunting: true } => "The speed hunts up and down. It must keep still first: hold the idle open or the throttle still.",
        _ => "Everything connected. Waiting for a steady speed.",
    };
}
