using ShopDiag.Comebacks.Repairs;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>What became of a repair, as of the day asked about.</summary>
public enum Standing
{
    /// <summary>Came back for the same trouble within the window; a person said so.</summary>
    CameBack,

    /// <summary>Came back for the same trouble, later or further on than the window.</summary>
    CameBackLater,

    /// <summary>A later order may be a comeback, and nobody has said yet.</summary>
    Undecided,

    /// <summary>The window is over, and it is not known to have come back.</summary>
    Held,

    /// <summary>The window is not over, and it is not known to have come back.</summary>
    TooEarly,
}

/// <summary>A repair with what is known of it since.</summary>
/// <param name="Case">The repair.</param>
/// <param name="Return">The first order confirmed as a comeback of it; null when there is none.</param>
/// <param name="Standing">What became of it.</param>
/// <param name="Days">Days from hand-over to the return, or to the day asked about.</param>
/// <param name="Kilometres">The same in kilometres, to whole hundreds.</param>
/// <param name="KilometresEstimated">True when that distance, or its last part, is worked out from how far cars are driven in a day.</param>
/// <param name="Settled">True when the window's days are over for it, came it back or not: only such repairs can be compared as mended or not.</param>
public readonly record struct FollowedRepair(
    RepairCase Case, RepairCase? Return, Standing Standing, int Days, int Kilometres, bool KilometresEstimated, bool Settled)
{
    /// <summary>For the curve over days: the return, or watched without one until the day asked about.</summary>
    internal Observation ByDays => new(Days, Return is not null);

    /// <summary>For the curve over kilometres.</summary>
    internal Observation ByKilometres => new(Kilometres, Return is not null);
}
