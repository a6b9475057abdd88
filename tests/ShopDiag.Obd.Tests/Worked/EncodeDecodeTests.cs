using CsCheck;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Tests.Worked;

/// <summary>What is written by the rules is read back.</summary>
public sealed class EncodeDecodeTests
{
    [Fact]
    public void Any_codes_written_by_sae_j2012_are_read_back() =>
        Gen.Select(Gen.Char["PCBU"], Gen.Int[0, 3], Gen.Int[0, 0xFFF]).Array[0, 127].Sample(parts =>
        {
            var codes = parts.Select(p => $"{p.Item1}{p.Item2}{p.Item3:X3}").Where(c => c != "P0000").ToArray();
            byte[] message = [0x43, (byte)codes.Length, .. codes.SelectMany(Written)];

            var read = Assert.IsType<CodesRecord>(MessageDecoder.Decode(new ObdMessage([.. message]) { Id = Decoded.Engine }));

            Assert.Equal(codes, read.Codes.Select(c => c.Text));
            Assert.Empty(read.Remarks);
        }, iter: 2000);

    [Fact]
    public void Any_value_of_any_pid_stays_within_its_range_and_comes_back_to_its_bytes()
    {
        foreach (var definition in PidTable.Known)
        {
            Gen.Byte.Array[definition.Bytes].Sample(data =>
            {
                var record = Assert.IsType<ValuesRecord>(MessageDecoder.Decode(new ObdMessage([0x41, definition.Pid, .. data]) { Id = Decoded.Engine }));

                Assert.Empty(record.Remarks);
                Assert.All(record.Values, v =>
                {
                    Assert.True(v.Words is not null ^ v.Number is not null);
                    if (v.Number is { } number)
                    {
                        var raw = (long)Math.Round((number - v.Item.Plus) * v.Item.Divided / v.Item.Times);
                        Assert.Equal(v.Raw, (uint)(raw & ((1L << (8 * v.Item.Width)) - 1)));
                    }
                });
            }, iter: 200);
        }
    }

    [Fact]
    public void Any_tests_are_read_back_in_order() =>
        Gen.Select(Gen.Byte.Where(b => b % 0x20 != 0), Gen.Byte, Gen.Byte, Gen.UShort, Gen.UShort, Gen.UShort).Array[1, 20].Sample(rows =>
        {
            MonitorTest[] tests = [.. rows.Select(r => new MonitorTest(r.Item1, r.Item2, r.Item3, r.Item4, r.Item5, r.Item6))];
            byte[] message = [0x46, .. tests.SelectMany(t => new[] { t.MonitorId, t.TestId, t.UnitId, (byte)(t.RawValue >> 8), (byte)t.RawValue, (byte)(t.RawLow >> 8), (byte)t.RawLow, (byte)(t.RawHigh >> 8), (byte)t.RawHigh })];

            Assert.Equal(tests, Assert.IsType<TestsRecord>(MessageDecoder.Decode(new ObdMessage([.. message]) { Id = Decoded.Engine })).Tests);
        }, iter: 2000);

    [Fact]
    public void Any_mask_names_what_was_put_in() =>
        Gen.Select(Gen.Int[0, 7], Gen.Int[1, 32].HashSet[0, 32]).Sample((block, members) =>
        {
            uint mask = 0;
            foreach (var member in members)
            {
                mask |= 1u << (32 - member);
            }

            var first = (byte)(32 * block);
            var record = Assert.IsType<ValuesRecord>(Decoded.Can($"41 {first:X2} {mask:X8}"));

            Assert.Equal(members.Order().Select(m => first + m).Where(m => m <= 0xFF), record.Supported.Select(s => (int)s));
        }, iter: 2000);

    private static IEnumerable<byte> Written(string code) =>
    [
        (byte)(("PCBU".IndexOf(code[0], StringComparison.Ordinal) << 6) | ((code[1] - '0') << 4) | Convert.ToInt32(code[2..3], 16)),
        Convert.ToByte(code[3..], 16),
    ];
}
