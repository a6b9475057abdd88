using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>How somebody said yes or no.</summary>
public enum ApprovalWay
{
    /// <summary>At the counter, with a signature on the tablet.</summary>
    InPerson,

    /// <summary>On the telephone.</summary>
    Phone,

    /// <summary>By letter, e-mail or message.</summary>
    Writing,
}

/// <summary>What somebody decided about the lines of an estimate. Never changed afterwards; a later one goes before it, line by line.</summary>
public sealed record Approval
{
    /// <summary>Key, made by the client.</summary>
    public required Guid Id { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime At { get; init; }

    /// <summary>Who wrote it down.</summary>
    public required string By { get; init; }

    /// <summary>Who decided.</summary>
    public required string Person { get; init; }

    /// <summary>How.</summary>
    public required ApprovalWay Way { get; init; }

    /// <summary>The number called, or which letter; empty in person.</summary>
    public string Contact { get; init; } = "";

    /// <summary>What else was said.</summary>
    public string Note { get; init; } = "";

    /// <summary>The lines and what was said to each.</summary>
    public required ImmutableArray<LineDecision> Decisions { get; init; }

    /// <summary>The signature, drawn on the tablet; null when nobody signed.</summary>
    public Signature? Signature { get; init; }

    /// <summary>True when the replaced parts are wanted back.</summary>
    public bool OldPartsBack { get; init; }

    /// <summary>The terms that stood above the signature.</summary>
    public string Terms { get; init; } = "";

    /// <summary>What the approved lines came to at the time, with tax.</summary>
    public long ApprovedMinor => Decisions.Where(d => d.Yes).Sum(d => d.TotalMinor);
}

/// <summary>What was said to one line.</summary>
/// <param name="Line">Its key.</param>
/// <param name="Text">What it said at the time.</param>
/// <param name="TotalMinor">What it came to at the time, with tax.</param>
/// <param name="Yes">Whether it was approved.</param>
public sealed record LineDecision(Guid Line, string Text, long TotalMinor, bool Yes);

/// <summary>A signature as lines drawn with a finger.</summary>
/// <param name="Strokes">For each stroke x and y by turns, from 0 to 1 of the field's width and height, y downwards.</param>
/// <param name="Aspect">Width of the field over its height, above 0.</param>
public sealed record Signature(ImmutableArray<ImmutableArray<double>> Strokes, double Aspect)
{
    /// <summary>Most points that a signature has: minutes of drawing.</summary>
    public const int MostPoints = 20_000;

    /// <summary>Fewest points of one: a tap is none.</summary>
    public const int FewestPoints = 8;

    /// <summary>Why it cannot be kept, or null.</summary>
    public string? Fault => Strokes.IsDefault || Strokes.Any(s => s.IsDefault || s.Length % 2 != 0 || s.Any(v => v is not (>= 0 and <= 1))) || !(Aspect is > 0.1 and < 20)
        ? "The drawing cannot be read. Draw it again."
        : Strokes.Sum(s => s.Length / 2) switch
        {
            > MostPoints => "The signature is too long to keep. Clear it and sign again.",
            < FewestPoints => "The signature is too short: sign across the field.",
            _ => null,
        };
}
