using System.Collections.Immutable;
using ShopDiag.Estimates;

namespace ShopDiag.Web.Parts;

/// <summary>Where parts are, in the words of the shop.</summary>
public static class PartWords
{
    // What one asks first of an order's parts comes first.
    private static readonly ImmutableArray<PartState> InALine = [PartState.Received, PartState.Ordered, PartState.Wanted, PartState.Fitted, PartState.Returned];

    /// <summary>Where it is.</summary>
    public static string Of(PartState state) => state switch
    {
        PartState.Wanted => "wanted",
        PartState.Ordered => "ordered",
        PartState.Received => "here",
        PartState.Fitted => "fitted",
        PartState.Returned => "sent back",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };

    /// <summary>The next step, or null at the end.</summary>
    public static PartState? Next(PartState state) => state is PartState.Fitted or PartState.Returned ? null : state + 1;

    /// <summary>What is said on the button of the next step.</summary>
    public static string Step(PartState to) => to switch
    {
        PartState.Wanted => "Wanted",
        PartState.Ordered => "Ordered",
        PartState.Received => "Received",
        PartState.Fitted => "Fitted",
        PartState.Returned => "Sent back",
        _ => throw new ArgumentOutOfRangeException(nameof(to), to, "Unknown state."),
    };

    /// <summary>The steps other than the next. What was never ordered cannot go back to a vendor.</summary>
    public static ImmutableArray<PartState> Others(PartState from) =>
        [.. Enum.GetValues<PartState>().Where(s => s != from && s != Next(from) && !(from == PartState.Wanted && s == PartState.Returned))];

    /// <summary>What is said on the button of another step.</summary>
    public static string OtherStep(PartState from, PartState to) => to switch
    {
        PartState.Returned => "Sent back to the vendor",
        _ when to < from => $"Back to “{Of(to)}”",
        _ => $"{Step(to)} already",
    };

    /// <summary>The parts of an order in one line: <c>3 parts: 1 here, 2 ordered</c>.</summary>
    public static string Line(ImmutableArray<PartOnOrder> parts)
    {
        if (parts.IsDefaultOrEmpty)
        {
            return "none approved yet";
        }

        var states = InALine.Select(s => (State: s, Pieces: parts.Where(p => p.State == s).Sum(p => p.Quantity))).Where(s => s.Pieces > 0).ToList();
        var all = states.Sum(s => s.Pieces);
        return (all == 1 ? "1 part" : $"{all} parts") + (states.Count == 1
            ? $"{(all == 1 ? "" : ", all")} {Of(states[0].State)}"
            : ": " + string.Join(", ", states.Select(s => $"{s.Pieces} {Of(s.State)}")));
    }

    /// <summary>The pieces and what they are: <c>2 × Exhaust valve, cylinder 6</c>.</summary>
    public static string Named(PartOnOrder part)
    {
        ArgumentNullException.ThrowIfNull(part);
        return $"{part.Quantity} × {part.Text}{(part.Position.Length > 0 ? $", {part.Position}" : "")}";
    }

    /// <summary>Maker and number, or an empty text.</summary>
    public static string Made(PartOnOrder part)
    {
        ArgumentNullException.ThrowIfNull(part);
        return string.Join(' ', new[] { part.Maker, part.PartNumber }.Where(t => t.Length > 0));
    }

    /// <summary>True when a part should have been here.</summary>
    public static bool IsOverdue(PartOnOrder part, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(part);
        return part.State is PartState.Wanted or PartState.Ordered && part.ExpectedOn < today;
    }
}
