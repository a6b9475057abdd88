using System.Diagnostics;
using System.Globalization;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;

namespace ShopDiag.Benchmarks;

/// <summary>
/// Ten million rows of a time and two channels: written to a temporary folder, read, and drawn. It runs in a process of its own, because what counts beside the speed is the memory at its peak:
/// <c>dotnet run -c Release --project tests/ShopDiag.Benchmarks -- waveform</c>.
/// </summary>
internal static class WaveformReading
{
    private const int Rows = 10_000_000;

    public static int Run()
    {
        var path = Path.Combine(Path.GetTempPath(), $"shopdiag-waveform-{Environment.ProcessId}.csv");
        try
        {
            Write(path);
            for (var round = 1; round <= 3; round++)
            {
                Console.WriteLine(Round(path));
                GC.Collect();
            }

            return 0;
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>Seconds of processor, so that other programs on the machine do not count; reading is done by one thread.</summary>
    private static string Round(string path)
    {
        var megabytes = new FileInfo(path).Length / 1e6;
        var start = Environment.CpuUsage.TotalTime;
        using var stream = File.OpenRead(path);
        var waveform = WaveformCsv.Read(stream, new()).Value.Waveform!;
        var read = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
        var clock = Stopwatch.StartNew();
        var trace = new MinMaxTrace(waveform.Channels[0].Samples);
        var pyramid = clock.Elapsed.TotalSeconds;
        var columns = trace.Columns(0, trace.Length, 1000);
        var draw = clock.Elapsed.TotalSeconds - pyramid;
        using var process = Process.GetCurrentProcess();
        return FormattableString.Invariant(
            $"{waveform.Length} rows, {megabytes:0} MB in {read:0.00} s = {megabytes / read:0} MB/s; pyramid {pyramid:0.000} s, {columns.Length} columns {1e3 * draw:0.00} ms; peak memory {process.PeakWorkingSet64 / 1e6:0} MB");
    }

    private static void Write(string path)
    {
        using var writer = new StreamWriter(path);
        writer.Write("Time,Channel A,Channel B\n(s),(V),(A)\n\n");
        Span<char> line = stackalloc char[64];
        for (var i = 0; i < Rows; i++)
        {
            var (a, b) = (Math.Sin(i * 0.001) * 5, 120 + (40 * Math.Sin(i * 0.0003)) + (i % 7 * 0.1));
            line.TryWrite(CultureInfo.InvariantCulture, $"{i * 1e-6:0.000000},{a:0.0000},{b:0.000}\n", out var length);
            writer.Write(line[..length]);
        }
    }
}
