using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace ShopDiag.Storage.Tests.Writing;

/// <summary>The writer program in a process of its own.</summary>
internal sealed class WriterProcess : IDisposable
{
    private readonly Process _process;

    private WriterProcess(Process process) => _process = process;

    public static WriterProcess Start(string folder, Guid order, int first, params string[] more)
    {
        var start = new ProcessStartInfo(DotNet) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "ShopDiag.Storage.Tests.Writer.dll"));
        start.ArgumentList.Add(folder);
        start.ArgumentList.Add(order.ToString());
        start.ArgumentList.Add(first.ToString(CultureInfo.InvariantCulture));
        foreach (var argument in more)
        {
            start.ArgumentList.Add(argument);
        }

        return new(Process.Start(start)!);
    }

    /// <summary>Reads on until some readings are acknowledged, then kills it (SIGKILL) a moment later; answers every number it had printed by then.</summary>
    public async Task<IReadOnlyList<int>> KillAfterAsync(int acknowledged, TimeSpan moment)
    {
        var numbers = new List<int>();
        while (await _process.StandardOutput.ReadLineAsync() is { } line)
        {
            numbers.Add(int.Parse(line, CultureInfo.InvariantCulture));
            if (numbers.Count == acknowledged)
            {
                _ = Task.Delay(moment).ContinueWith(_ => _process.Kill(), TaskScheduler.Default);
            }
        }

        await _process.WaitForExitAsync();
        Assert.True(numbers.Count >= acknowledged, await _process.StandardError.ReadToEndAsync());
        return numbers;
    }

    /// <summary>Kills it after a time, whatever it is doing.</summary>
    public async Task KillAtAsync(TimeSpan moment)
    {
        await Task.Delay(moment);
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    /// <summary>Waits for its own end.</summary>
    public async Task<(int Code, string Error)> EndAsync()
    {
        _ = _process.StandardOutput.ReadToEndAsync();
        var error = await _process.StandardError.ReadToEndAsync();
        await _process.WaitForExitAsync();
        return (_process.ExitCode, error);
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
        }

        _process.Dispose();
    }

    /// <summary>The host that runs these tests: three folders above the shared runtime.</summary>
    private static string DotNet => Path.GetFullPath(
        Path.Combine(RuntimeEnvironment.GetRuntimeDirectory(), "..", "..", "..", OperatingSystem.IsWindows() ? "dotnet.exe" : "dotnet"));
}
