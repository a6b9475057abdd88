using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Tests;

/// <summary>Short ways to a decoded message.</summary>
internal static class Decoded
{
    public static readonly CanId Engine = new(0x7E8, false);

    public static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));

    /// <summary>The payload of a CAN message of the engine's control unit.</summary>
    public static ObdRecord Can(string hex) => MessageDecoder.Decode(new ObdMessage([.. Bytes(hex)]) { Id = Engine });

    /// <summary>The one value in the answer to a PID.</summary>
    public static double Value(string hex) => Assert.Single(Assert.IsType<ValuesRecord>(Can(hex)).Values).Number!.Value;

    public static ObdLog Log(params string[] lines) => ObdLog.Read(string.Join('\n', lines)).Value;

    public static T Only<T>(params string[] lines)
        where T : ObdRecord => Assert.Single(Log(lines).Records.OfType<T>());

    /// <summary>A message as the lines of a log, with time stamps.</summary>
    public static IEnumerable<string> Lines(CanId id, string hex, double seconds) =>
        Segmenter.Cut(id, Bytes(hex)).Select((f, i) => FormattableString.Invariant($"({seconds + (0.001 * i):0.000000}) can0 {f.Id}#{Convert.ToHexString(f.Data.AsSpan())}"));
}
