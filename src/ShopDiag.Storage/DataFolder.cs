namespace ShopDiag.Storage;

/// <summary>Which folder a shop's records live in.</summary>
public static class DataFolder
{
    /// <summary>The environment variable that names the folder: <c>SHOPDIAG_DATA</c>.</summary>
    public const string Variable = "SHOPDIAG_DATA";

    /// <summary>Where a Linux computer keeps the records of programs that have no home folder.</summary>
    private const string WithoutHome = "/var/lib/shopdiag";

    /// <summary>The folder when nobody names one on the command line; see <see cref="Resolve(string?)"/>.</summary>
    public static string Default() => Resolve(null);

    /// <summary>
    /// The folder, as a full path: the one asked for; else the one in <see cref="Variable"/>; else <c>ShopDiag</c> in the user's
    /// own application data (<c>$XDG_DATA_HOME</c> or <c>~/.local/share</c> on Linux, <c>%LOCALAPPDATA%</c> on Windows); else, for a user
    /// without a home, <c>/var/lib/shopdiag</c>. A temporary folder is never chosen: it would be swept away with the records.
    /// Nothing is made here. Throws <see cref="DataFolderException"/> for a folder inside a source tree of the program.
    /// </summary>
    public static string Resolve(string? asked) =>
        Resolve(asked, Environment.GetEnvironmentVariable(Variable), ApplicationData());

    /// <summary>The same with everything it depends on handed in.</summary>
    internal static string Resolve(string? asked, string? variable, string applicationData)
    {
        var folder = Given(asked) ?? Given(variable)
            ?? (Path.IsPathFullyQualified(applicationData) ? Path.Combine(applicationData, "ShopDiag") : WithoutHome);
        return SourceTreeAbove(folder) is { } tree
            ? throw new DataFolderException(
                $"The records must not lie among the program's source: {folder} is inside {tree}. Name another folder with --data or in {Variable}.")
            : folder;
    }

    private static string? Given(string? folder) => string.IsNullOrWhiteSpace(folder) ? null : Path.GetFullPath(folder.Trim());

    // Without DoNotVerify the answer is empty until some other program has made ~/.local/share.
    private static string ApplicationData() =>
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);

    private static string? SourceTreeAbove(string folder)
    {
        for (var above = new DirectoryInfo(folder); above is not null; above = above.Parent)
        {
            if (File.Exists(Path.Combine(above.FullName, "ShopDiag.sln")))
            {
                return above.FullName;
            }
        }

        return null;
    }
}
