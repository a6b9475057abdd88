using System.Collections.Immutable;
using System.Text.Json;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Reads prior weights by cause id: <c>{"coil-failed":0.3}</c>.</summary>
internal static class PriorsJson
{
    // Sums of weights must stay numbers; no scale of weights comes near it.
    private const double Most = 1e9;

    /// <summary>The weights, or null when the member is absent.</summary>
    public static Parsed<ImmutableDictionary<string, double>?> Read(JsonElement json, string name, Knowledge knowledge)
    {
        if (JsonInput.Member(json, name) is not { } priors)
        {
            return (ImmutableDictionary<string, double>?)null;
        }

        if (priors.ValueKind != JsonValueKind.Object)
        {
            return new InputError(name, "must be an object in braces: a weight above 0 for each cause by its id.");
        }

        var weights = ImmutableDictionary.CreateBuilder<string, double>(StringComparer.Ordinal);
        foreach (var member in priors.EnumerateObject())
        {
            var at = $"{name}.{member.Name}";
            if (knowledge.Cause(member.Name) is null)
            {
                return new InputError(at, "is not the id of a cause that is known here.");
            }

            if (!(JsonInput.Number(member.Value, at) is { IsValid: true, Value: > 0 and <= Most } weight))
            {
                return new InputError(at, "must be a number above 0, at most 1000000000.");
            }

            weights[member.Name] = weight.Value;
        }

        return weights.ToImmutable();
    }
}
