using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Limits;

/// <summary>One limit as <c>Limits/limits.json</c> describes it: the one place of every number that decides.</summary>
public sealed record Limit
{
    /// <summary>Stable id with the unit at its end, such as <c>compression-min-kpa</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Title in the trade's words.</summary>
    public required string Title { get; init; }

    /// <summary>The quantity, which gives the units offered (see <c>Quantities</c>).</summary>
    public required string Quantity { get; init; }

    /// <summary>The default in the base unit.</summary>
    public required double Default { get; init; }

    /// <summary>Smallest value a shop may set.</summary>
    public required double Min { get; init; }

    /// <summary>Largest value a shop may set.</summary>
    public required double Max { get; init; }

    /// <summary>Where the default comes from; <c>common practice</c> for a rule of the trade.</summary>
    public required string Source { get; init; }
}

/// <summary>The limits that hold for one engine.</summary>
public sealed class LimitSet
{
    private readonly ImmutableDictionary<string, Limit> _defaults;
    private readonly ImmutableDictionary<string, double> _own;

    /// <summary>Defaults with an engine's own values over them.</summary>
    public LimitSet(ImmutableDictionary<string, Limit> defaults, ImmutableDictionary<string, double> own) =>
        (_defaults, _own) = (defaults, own);

    /// <summary>The value that holds. Throws <see cref="KeyNotFoundException"/> for an id that no limit has.</summary>
    public double this[string id] => _own.TryGetValue(id, out var own) ? own : Default(id).Default;

    /// <summary>True when the engine's own value holds and not the default.</summary>
    public bool IsOwn(string id) => _own.ContainsKey(id);

    /// <summary>The description of a limit.</summary>
    public Limit Default(string id) => _defaults.TryGetValue(id, out var limit)
        ? limit
        : throw new KeyNotFoundException($"No limit is called '{id}'.");
}
