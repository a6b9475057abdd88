using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Web.Components.EngineViews;

/// <summary>What the engine plan shows on one cylinder: a word first, then a bar and its pattern, colour last.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="Word">The word on it, such as <c>dead</c>; short.</param>
/// <param name="Share">Length of the bar from 0 to 1: how much of its weight the cylinder pulls, as far as known.</param>
/// <param name="Pattern">Fill of the bar: <c>none</c>, <c>solid</c>, <c>dots</c>, <c>hatch</c>, <c>cross</c> or <c>stripes</c>.</param>
/// <param name="Because">The reading that says so, in plain words; read out and shown on touch.</param>
public sealed record CylinderMark(int Cylinder, string Word, double Share, string Pattern, string Because = "")
{
    /// <summary>
    /// Bar lengths by condition, for when no measured share is given. They order the conditions for the eye
    /// and stand for no number (common practice: full for sound, nearly nothing for dead).
    /// </summary>
    public static CylinderMark Of(CylinderState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        return state.State switch
        {
            CylinderCondition.Unknown => new(state.Cylinder, "", 0, "none", state.Because),
            CylinderCondition.Contributing => new(state.Cylinder, "pulls", 1, "solid", state.Because),
            CylinderCondition.Misfiring => new(state.Cylinder, "misfires", 0.7, "dots", state.Because),
            CylinderCondition.Weak => new(state.Cylinder, "weak", 0.4, "hatch", state.Because),
            CylinderCondition.Dead => new(state.Cylinder, "dead", 0.1, "cross", state.Because),
            CylinderCondition.CannotTell => new(state.Cylinder, "can't tell", 0.5, "stripes", state.Because),
            _ => throw new InvalidOperationException($"Unknown condition {state.State}."),
        };
    }

    /// <summary>The mark of a cylinder of which nothing is known.</summary>
    public static CylinderMark Blank(int cylinder) => Of(new CylinderState(cylinder, CylinderCondition.Unknown, ""));

    /// <summary>The cylinder in one line for those who do not see it.</summary>
    public string InWords => (Word, Because) switch
    {
        ("", _) => $"Cylinder {Cylinder}: nothing known yet",
        (_, "") => $"Cylinder {Cylinder}: {Word}",
        _ => $"Cylinder {Cylinder}: {Word}. {Because}",
    };
}
