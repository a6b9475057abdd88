using System.Diagnostics;

namespace ShopDiag.Reports.Tests;

/// <summary>Runs a tool that reads PDF and is not ours.</summary>
internal static class Tool
{
    /// <summary>Writes a paper to a file, runs the tool on it, and returns how it ended and what it printed.</summary>
    public static async Task<(int Exit, string Output)> RunAsync(string tool, byte[] paper, Func<string, string[]> arguments)
    {
        Require(tool);
        var cancel = TestContext.Current.CancellationToken;
        var file = Path.Combine(Path.GetTempPath(), $"shopdiag-{Guid.NewGuid():N}.pdf");
        await File.WriteAllBytesAsync(file, paper, cancel);
        try
        {
            using var process = Process.Start(new ProcessStartInfo(tool, arguments(file)) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            var error = process.StandardError.ReadToEndAsync(cancel);
            var output = await process.StandardOutput.ReadToEndAsync(cancel);
            await process.WaitForExitAsync(cancel);
            return (process.ExitCode, output + await error);
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>On the build machine a missing tool is a failure; on somebody's own it is a skipped test with its reason.</summary>
    private static void Require(string tool)
    {
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, tool)));
        if (Environment.GetEnvironmentVariable("CI") == "true")
        {
            Assert.True(found, $"{tool} is not installed; tests/run.sh installs qpdf and poppler-utils.");
        }

        Assert.SkipUnless(found, $"{tool} is not installed: apt-get install qpdf poppler-utils");
    }
}
