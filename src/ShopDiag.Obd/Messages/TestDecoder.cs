using System.Buffers.Binary;
using System.Collections.Immutable;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.MonitorTests;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>
/// Service 06 on CAN: nine bytes a test, monitor, test, unit, value and two limits, and 46 stands before the first only (Land Rover 2008 LR3 manual, "Mode $06 Data"). Monitors 00, 20,
/// 40 ... are masks of four bytes.
/// </summary>
internal static class TestDecoder
{
    private const int TestLength = 9;
    private const int MaskLength = 5;

    public static ObdRecord Decode(ObdMessage message)
    {
        var tests = ImmutableArray.CreateBuilder<MonitorTest>();
        var supported = ImmutableArray.CreateBuilder<byte>();
        var remarks = ImmutableArray.CreateBuilder<string>();
        var rest = message.Bytes.AsSpan()[1..];
        if (rest.IsEmpty)
        {
            remarks.Add("The answer names no monitor.");
        }

        while (!rest.IsEmpty)
        {
            var isMask = rest[0] % 0x20 == 0;
            var length = isMask ? MaskLength : TestLength;
            if (tests.Count + supported.Count > 0 && rest.Length < length && MessageDecoder.IsFilling(message, rest))
            {
                break;
            }

            if (rest.Length < length)
            {
                remarks.Add($"{(isMask ? "A mask" : "A test")} takes {length} bytes and {rest.Length} are left ({Hex.Show(rest)}); they were passed over.");
                break;
            }

            if (isMask)
            {
                supported.AddRange(MessageDecoder.Supported(rest[0], rest[1..]));
            }
            else
            {
                tests.Add(new(rest[0], rest[1], rest[2], Word(rest, 3), Word(rest, 5), Word(rest, 7)));
            }

            rest = rest[length..];
        }

        return new TestsRecord(message, tests.ToImmutable()) { Supported = supported.ToImmutable(), Remarks = remarks.ToImmutable() };
    }

    private static ushort Word(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);
}
