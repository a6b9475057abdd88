using System.Collections.Immutable;

namespace ShopDiag.Web.Tests.People;

/// <summary>The tables of DEVELOPERS.md under "Who may do what".</summary>
internal static class AccessTable
{
    private static readonly Lazy<ImmutableArray<string[]>> Rows = new(Read);

    /// <summary>Method and address, and the words for who may.</summary>
    public static ImmutableArray<(string Address, string Who)> Addresses => [.. Rows.Value.Where(r => r[0].Contains(" /", StringComparison.Ordinal)).Select(r => (r[0], r[1]))];

    /// <summary>Permissions and the words for who has them.</summary>
    public static ImmutableArray<(string Permission, string Who)> Permissions => [.. Rows.Value.Where(r => !r[0].Contains('/', StringComparison.Ordinal)).Select(r => (r[0], r[1]))];

    private static ImmutableArray<string[]> Read()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "DEVELOPERS.md")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("DEVELOPERS.md is not above the tests.");
        }

        var text = File.ReadAllText(Path.Combine(folder.FullName, "DEVELOPERS.md"));
        return
        [
            .. text[text.IndexOf("## Who may do what", StringComparison.Ordinal)..].Split('\n').Where(l => l.StartsWith("| `", StringComparison.Ordinal))
                .Select(l => l.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)).Select(c => new[] { c[0].Trim('`'), c[1] }),
        ];
    }
}
