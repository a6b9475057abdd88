using System.Diagnostics;
using System.Globalization;
using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Recognition;

namespace ShopDiag.Benchmarks;

/// <summary>
/// Ten million rows of a time and two channels, ten seconds of a cranking: written to a temporary folder, read, judged, and drawn. It runs in a process of its own, because what counts beside the speed is the memory at its peak:
/// <c>dotnet run -c Release --project tests/ShopDiag.Benchmarks -- waveform</c>.
/// </summary>
internal static class WaveformReading
{
    private const int Rows = 10_000_000;

    /// <summary>Rows for each sample of the made cranking, on straight lines between.</summary>
    private const int Between = 100;

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
        var file = WaveformCsv.Read(stream, new()).Value;
        var read = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
        var judged = WaveformAnalysis.Of(file, new() { Cylinders = 4, Order = [1, 3, 4, 2] });
        var all = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
        var waveform = file.Waveform!;
        var clock = Stopwatch.StartNew();
        var trace = new MinMaxTrace(waveform.Channels[0].Samples);
        var pyramid = clock.Elapsed.TotalSeconds;
        var columns = trace.Columns(0, trace.Length, 1000);
        var draw = clock.Elapsed.TotalSeconds - pyramid;
        using var process = Process.GetCurrentProcess();
        return FormattableString.Invariant(
            $"{waveform.Length} rows, {megabytes:0} MB in {read:0.00} s = {megabytes / read:0} MB/s; with {(judged.IsValid ? judged.Value.Kind.ToString() : judged.Error!.Message)} judged {all:0.00} s = {megabytes / all:0} MB/s; pyramid {pyramid:0.000} s, {columns.Length} columns {1e3 * draw:0.00} ms; peak memory {process.PeakWorkingSet64 / 1e6:0} MB");
    }

    private static void Write(string path)
    {
        var engine = CrankedEngine.Drawn(4, "one weak", 3) with { SampleRate = 10_000, CrankSeconds = 9.4 };
        var cranking = CrankingRun.Of(engine).Recorded(30, 1);
        var (amps, volts) = (cranking.Channels[0].Samples, cranking.Channels[1].Samples);
        using var writer = new StreamWriter(path);
        writer.Write("Time,Battery,Starter\n(s),(V),(A)\n\n");
        Span<char> line = stackalloc char[64];
        for (var i = 0; i < Rows; i++)
        {
            var (at, share) = (Math.Min(i / Between, amps.Length - 2), i % Between / (float)Between);
            var (v, a) = (volts[at] + (share * (volts[at + 1] - volts[at])), amps[at] + (share * (amps[at + 1] - amps[at])));
            line.TryWrite(CultureInfo.InvariantCulture, $"{i * 1e-6:0.000000},{v:0.0000},{a:0.000}\n", out var length);
            writer.Write(line[..length]);
        }
    }
}
