namespace ShopDiag.Comebacks.Repairs;

/// <summary>What speaks for a comeback.</summary>
public enum ComebackReasonKind
{
    /// <summary>How long ago and how far back the repair was.</summary>
    Recent,

    /// <summary>The same cylinder.</summary>
    SameCylinder,

    /// <summary>The same bank.</summary>
    SameBank,

    /// <summary>The same trouble code, one that names a place or a system.</summary>
    SameCode,

    /// <summary>P0300 both times: misfire, but of no cylinder in particular.</summary>
    SameGeneralCode,

    /// <summary>It happens under the same conditions.</summary>
    SameConditions,

    /// <summary>The customer used the same words.</summary>
    SameWords,
}

/// <summary>One thing that speaks for a comeback.</summary>
/// <param name="Kind">What kind of thing.</param>
/// <param name="Text">In plain words.</param>
public readonly record struct ComebackReason(ComebackReasonKind Kind, string Text);

/// <summary>
/// How much each reason counts when proposals on one car are put in order. Only the order is made of it: a person says what it was. Common practice; no published
/// weights exist. A cylinder or a code that names one says most; words of a customer and a general code say little.
/// </summary>
public static class ComebackWeights
{
    /// <summary>The weight of a kind of reason; that of <see cref="ComebackReasonKind.Recent"/> is for a car that is back on the day, and falls to 0 at the end of the window.</summary>
    public static double Of(ComebackReasonKind kind) => kind switch
    {
        ComebackReasonKind.SameCylinder => 3,
        ComebackReasonKind.SameBank => 1.5,
        ComebackReasonKind.SameCode => 2,
        ComebackReasonKind.SameGeneralCode => 1,
        ComebackReasonKind.SameConditions => 1,
        ComebackReasonKind.SameWords => 0.5,
        ComebackReasonKind.Recent => 1,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of reason."),
    };
}

/// <summary>In which unit distances are said.</summary>
public enum DistanceUnit
{
    /// <summary>Kilometres.</summary>
    Kilometres,

    /// <summary>Miles of 1.609344 km.</summary>
    Miles,
}
