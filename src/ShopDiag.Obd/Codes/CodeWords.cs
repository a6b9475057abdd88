using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Obd.Codes;

/// <summary>
/// Short plain words of our own for a trouble code: from the file <c>codes.json</c>, otherwise from the diagnosis library's list, otherwise what the code says by its structure.
/// Numbers after SAE J2012 / ISO 15031-6, from memory and in part confirmed in makers' tables.
/// </summary>
public static class CodeWords
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web) { UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow };
    private static readonly FrozenDictionary<string, string> Words = Load();

    /// <summary>Words for any code; never empty.</summary>
    public static string For(TroubleCode code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return Words.GetValueOrDefault(code.Text) ?? (CodeStructure.IsMakers(code) ? null : code.Words) ?? CodeStructure.Describe(code);
    }

    /// <summary>True when the code has words of its own and not only its structure.</summary>
    public static bool HasOwn(TroubleCode code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return Words.ContainsKey(code.Text) || (!CodeStructure.IsMakers(code) && code.Words is not null);
    }

    /// <summary>Every code of the file.</summary>
    internal static IEnumerable<string> Listed => Words.Keys;

    private static FrozenDictionary<string, string> Load()
    {
        using var stream = typeof(CodeWords).Assembly.GetManifestResourceStream("codes.json") ?? throw new InvalidOperationException("codes.json is not embedded.");
        var file = JsonSerializer.Deserialize<CodeFile>(stream, Options)
            ?? throw new InvalidOperationException("codes.json is empty.");
        var words = new Dictionary<string, string>(file.Codes, StringComparer.Ordinal);
        foreach (var family in file.Families)
        {
            foreach (var (code, says) in family.All())
            {
                // A code that stands in two places throws: one of them would be wrong.
                words.Add(code, says);
            }
        }

        return words.ToFrozenDictionary(StringComparer.Ordinal);
    }

    /// <summary>The file: single codes, and runs of codes that differ in what they speak of and in what is wrong with it.</summary>
    private sealed record CodeFile(string Source, ImmutableDictionary<string, string> Codes, ImmutableArray<Family> Families);

    /// <summary>From the first code on, decimal: for each subject each kind.</summary>
    private sealed record Family(string First, ImmutableArray<string> Subjects, ImmutableArray<string> Kinds)
    {
        public IEnumerable<(string Code, string Words)> All()
        {
            var number = int.Parse(First.AsSpan(1), CultureInfo.InvariantCulture);
            foreach (var subject in Subjects)
            {
                foreach (var kind in Kinds)
                {
                    yield return (string.Create(CultureInfo.InvariantCulture, $"{First[0]}{number++:0000}"), $"{subject}: {kind}");
                }
            }
        }
    }
}
