using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis;

/// <summary>Reads the knowledge files that are embedded in an assembly.</summary>
internal static class KnowledgeReader
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
    };

    /// <summary>Reads all of it. A file that does not parse throws with its name.</summary>
    public static Knowledge ReadEmbedded(Assembly assembly)
    {
        var order = Read<ImmutableArray<string>>(assembly, "BenchTests/order.json");
        var patterns = All<EvidencePattern>(assembly, "Causes/Patterns/").ToImmutableDictionary(p => p.Id, StringComparer.Ordinal);
        return new Knowledge(
            All<BenchTest>(assembly, "BenchTests/", "/test.json").OrderBy(t => Rank(order, t)),
            All<Cause>(assembly, "Causes/").OrderBy(c => c.Id, StringComparer.Ordinal).Select(c => Expand(c, patterns)),
            Read<ImmutableArray<ContradictionRule>>(assembly, "Evidence/contradictions.json"),
            Read<ImmutableArray<Limit>>(assembly, "Limits/limits.json"),
            Read<ImmutableArray<EngineProfile>>(assembly, "Engines/profiles.json"),
            Read<AfterRepair>(assembly, "Evidence/after-repair.json"));
    }

    private static int Rank(ImmutableArray<string> order, BenchTest test) => order.IndexOf(test.Id) is >= 0 and var rank
        ? rank
        : throw new InvalidOperationException($"The test '{test.Id}' is missing from BenchTests/order.json.");

    private static Cause Expand(Cause cause, ImmutableDictionary<string, EvidencePattern> patterns)
    {
        var own = cause.Shows;
        foreach (var id in cause.Like)
        {
            var pattern = patterns.GetValueOrDefault(id)
                ?? throw new InvalidOperationException($"Causes/{cause.Id}.json: there is no pattern '{id}'.");
            own = own.AddRange(pattern.Shows.Where(r => !own.Any(o => o.Covers(r))));
        }

        return cause with { Shows = own };
    }

    private static IEnumerable<T> All<T>(Assembly assembly, string folder, string ending = ".json") =>
        assembly.GetManifestResourceNames()
            .Select(n => n.Replace('\\', '/'))
            .Where(n => n.StartsWith(folder, StringComparison.Ordinal) && n.EndsWith(ending, StringComparison.Ordinal))
            .Where(n => ending != ".json" || !n[folder.Length..].Contains('/'))
            .Order(StringComparer.Ordinal)
            .Select(n => Read<T>(assembly, n));

    private static T Read<T>(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The knowledge file {name} is not in the program.");
        try
        {
            return JsonSerializer.Deserialize<T>(stream, Options)
                ?? throw new InvalidOperationException($"The knowledge file {name} is empty.");
        }
        catch (JsonException e)
        {
            throw new InvalidOperationException($"The knowledge file {name} does not parse: {e.Message}", e);
        }
    }
}

/// <summary>Evidence rules that several causes share, such as how any dead cylinder shows itself.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Title">What they have in common.</param>
/// <param name="Shows">The rules.</param>
public sealed record EvidencePattern(string Id, string Title, ImmutableArray<EvidenceRule> Shows);
