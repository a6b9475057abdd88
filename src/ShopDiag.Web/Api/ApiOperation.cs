using System.Collections.Immutable;
using System.CommandLine;

namespace ShopDiag.Web.Api;

/// <summary>What the description says of an endpoint, and what it takes. Stands on the endpoint itself, so that the two cannot differ.</summary>
internal sealed record ApiOperation
{
    /// <summary>Key of the operation.</summary>
    public required string Id { get; init; }

    /// <summary>What it does, in a line.</summary>
    public required string Summary { get; init; }

    /// <summary>More about it.</summary>
    public required string Description { get; init; }

    /// <summary>The box that has to be ticked on its token, in words.</summary>
    public required string Grant { get; init; }

    /// <summary>Options of the verb that may stand in the query.</summary>
    public IReadOnlyList<Option> Query { get; init; } = [];

    /// <summary>Content types that are taken; none where nothing is sent.</summary>
    public ImmutableArray<string> Takes { get; init; } = [];

    /// <summary>Name of the schema of a line of what is sent; null for a file that is no JSON.</summary>
    public string? TakesLine { get; init; }

    /// <summary>Largest body, bytes; 0 where nothing is sent.</summary>
    public long LargestBody { get; init; }

    /// <summary>Content type of the answer.</summary>
    public required string Gives { get; init; }

    /// <summary>Name of the schema of a line of the answer; null for a file.</summary>
    public string? GivesLine { get; init; }

    /// <summary>True where an order is named in the address.</summary>
    public bool OfOrder { get; init; }

    /// <summary>True where what was sent may turn out to be unreadable as a whole.</summary>
    public bool MayBeUnreadable { get; init; }
}
