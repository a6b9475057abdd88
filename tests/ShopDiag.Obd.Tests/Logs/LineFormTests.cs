using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Tests.Logs;

public sealed class LineFormTests
{
    [Theory]
    [InlineData("(1436509052.249713) can0 7E8#04410C1AF8000000")]
    [InlineData("(1436509052.249713) can0 7E8#04410C1AF8000000 R")]
    [InlineData("(1436509052.249713) vcan0 7E8#04.41.0C.1A.F8")]
    [InlineData("  can0  7E8   [8]  04 41 0C 1A F8 00 00 00")]
    [InlineData(" (000.004131)  can0  7E8   [8]  04 41 0C 1A F8 00 00 00   '.A......'")]
    [InlineData(" (2024-05-04 10:11:12.123456)  can0  7E8   [5]  04 41 0C 1A F8")]
    [InlineData("  can0  RX - -  7E8   [8]  04 41 0C 1A F8 00 00 00")]
    [InlineData("can0 18DAF110#04410C1AF8000000")]
    [InlineData("  can0  18DAF110   [8]  04 41 0C 1A F8 00 00 00")]
    [InlineData("7E8 04 41 0C 1A F8 00 00 00")]
    [InlineData("7E8#04410C1AF8")]
    [InlineData("7E8 04410C1AF8")]
    [InlineData("7E804410C1AF8000000")]
    [InlineData("18 DA F1 10 04 41 0C 1A F8 00 00 00")]
    [InlineData("18DAF110 04 41 0C 1A F8")]
    [InlineData("18daf11004410c1af8")]
    [InlineData("7E8 [5] 04 41 0C 1A F8")]
    [InlineData("04 41 0C 1A F8 00 00 00")]
    [InlineData("41 0C 1A F8")]
    [InlineData("410C1AF8   # idle")]
    [InlineData("41 0C 1A F8 00 00 00")]
    public void Every_form_of_a_line_gives_the_speed(string line)
    {
        var log = Decoded.Log(line);

        Assert.Equal(1726, Assert.Single(Assert.Single(log.Records.OfType<ValuesRecord>()).Values).Number);
        Assert.Empty(log.Problems);
        Assert.Empty(log.Records[0].Remarks);
    }

    [Theory]
    [InlineData("hello", "neither")]
    [InlineData("can0 7E8", "length in square brackets is missing")]
    [InlineData("can0 7E8 [8] 04 41", "8 bytes are announced and 2 are there")]
    [InlineData("can0 7E8 [x] 04 41", "length in square brackets cannot be read")]
    [InlineData("(abc) can0 7E8#0441", "time stamp")]
    [InlineData("can0 7E8#0441F", "no hexadecimal digits in pairs")]
    [InlineData("can0 FFF#0441", "identifier before #")]
    [InlineData("can0 7E8 04 41", "length in square brackets is missing")]
    [InlineData("7E8 22 24 ..", "neither")]
    public void A_line_that_cannot_be_read_says_where_and_why_and_the_others_go_on(string line, string says)
    {
        var log = Decoded.Log(line, "7E8 04 41 0C 1A F8");

        var problem = Assert.Single(log.Problems);
        Assert.Equal(1, problem.Line);
        Assert.Contains(says, problem.Message, StringComparison.Ordinal);
        Assert.Single(log.Records);
    }

    [Theory]
    [InlineData("can0 7E8##1044100")]
    [InlineData("can0 7E8#R")]
    [InlineData("  can0  7E8   [0]  remote request")]
    [InlineData("  can0  20000080   [8]  00 00 00 00 00 00 00 00   ERRORFRAME")]
    [InlineData("  can0  7E8  [12]  04 41 0C 1A F8 00 00 00 00 00 00 00")]
    public void Frames_without_data_for_obd_are_passed_over(string line)
    {
        var log = Decoded.Log(line, "7E8 04 41 0C 1A F8");

        Assert.Equal(1, log.PassedOver);
        Assert.Empty(log.Problems);
        Assert.Single(log.Records);
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("# nothing\n\n", "empty")]
    [InlineData("can0 123#0011\ncan0 18FEF100#00", "2 frames, and none of them of OBD")]
    [InlineData("Dear sir,\nyour car", "Nothing of OBD")]
    public void A_log_without_obd_says_so(string text, string says) => Assert.Contains(says, ObdLog.Read(text).Error!.Message, StringComparison.Ordinal);

    [Fact]
    public void A_log_that_is_too_large_is_refused_and_one_endless_line_too()
    {
        Assert.Contains("200000 messages", ObdLog.Read(new Endless("7E8 04 41 0C 1A F8\n")).Error!.Message, StringComparison.Ordinal);
        Assert.Contains("32 MB", ObdLog.Read(new Endless("can0 123#00\n")).Error!.Message, StringComparison.Ordinal);
        Assert.Contains("32 MB", ObdLog.Read(new Endless("41")).Error!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Frames_without_identifiers_are_put_together()
    {
        var vin = Decoded.Only<VehicleRecord>("02 09 02 00 00 00 00 00", "10 14 49 02 01 31 47 31", "30 00 00", "21 4A 43 35 34 34 34 52", "22 37 32 35 32 33 36 37");

        Assert.Equal("1G1JC5444R7252367", vin.Vin!.Text);
        Assert.Null(vin.Message.Id);
    }

    [Fact]
    public void Seven_bytes_without_an_identifier_are_an_older_buss_three_codes()
    {
        var codes = Decoded.Only<CodesRecord>("43 01 33 03 01 00 00");

        Assert.Equal(["P0133", "P0301"], codes.Codes.Select(c => c.Text));
        Assert.Contains("older bus", Assert.Single(codes.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void Two_buses_do_not_mix()
    {
        var log = Decoded.Log("can0 7E8#100E430601430196", "can1 7E8#04410C1AF8000000", "can0 7E8#21023402CD03570A", "can0 7E8#2224");

        Assert.Equal(2, log.Records.Length);
        Assert.Empty(log.Problems);
    }

    [Fact]
    public void Gaps_between_lines_add_up_to_times()
    {
        var lines = Enumerable.Range(0, 40).Select(i => FormattableString.Invariant($" ({(i == 0 ? 0 : i % 2 == 0 ? 0.09 : 0.01):000.000000})  can0  7E8   [5]  04 41 0C 0B B8"));
        var speed = ObdFindings.From(ObdLog.Read(string.Join('\n', lines)).Value).Speed;

        Assert.Equal((20 * 0.01) + (19 * 0.09), speed[^1].Seconds, 1e-6);
    }

    /// <summary>A text that never ends.</summary>
    private sealed class Endless(string piece) : TextReader
    {
        private int _at;

        public override int Read(char[] buffer, int index, int count)
        {
            for (var i = 0; i < count; i++)
            {
                buffer[index + i] = piece[_at++ % piece.Length];
            }

            return count;
        }
    }
}
