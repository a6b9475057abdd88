using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Tests.Worked;

/// <summary>Messages that are wrong: each says why, and what is right in it stays.</summary>
public sealed class BrokenMessageTests
{
    [Fact]
    public void A_frame_out_of_order_ends_the_message_with_the_reason()
    {
        var log = Decoded.Log("7E8 10 14 49 02 01 31 47 31", "7E8 22 4A 43 35 34 34 34 52", "7E8 21 37 32 35 32 33 36 37");

        Assert.Empty(log.Records);
        Assert.Equal([2, 3], log.Problems.Select(p => p.Line));
        Assert.Contains("frame 21 was due and 22 came", log.Problems[0].Message, StringComparison.Ordinal);
        Assert.Contains("6 of 20 bytes", log.Problems[0].Message, StringComparison.Ordinal);
        Assert.Contains("without a first frame", log.Problems[1].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_message_longer_than_what_came_is_said_at_the_end()
    {
        var log = Decoded.Log("7E8 10 FF 49 02 01 31 47 31", "7E8 21 4A 43 35 34 34 34 52");

        Assert.Empty(log.Records);
        Assert.Contains("13 of 255 bytes", Assert.Single(log.Problems).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_control_units_may_speak_at_once()
    {
        var log = Decoded.Log(
            "7DF 02 09 0A",
            "7E8 10 17 49 0A 01 45 43 4D",
            "7E9 10 0C 43 05 07 00 07 05",
            "7E0 30 00 00",
            "7E8 21 00 2D 45 6E 67 69 6E",
            "7E1 30 00 00",
            "7E9 21 07 10 07 15 07 20",
            "7E8 22 65 20 43 6F 6E 74 72",
            "7E8 23 6F 6C 00");

        Assert.Empty(log.Problems);
        Assert.Equal(["P0700", "P0705", "P0710", "P0715", "P0720"], Assert.Single(log.Records.OfType<CodesRecord>()).Codes.Select(c => c.Text));
        Assert.Equal(["7E8", "7E9"], ObdFindings.From(log).Units.Select(u => u.Id));
        Assert.StartsWith("ECM", ObdFindings.From(log).Units[0].Name, StringComparison.Ordinal);
    }

    [Fact]
    public void An_odd_byte_among_codes_is_passed_over_with_a_remark()
    {
        var codes = Assert.IsType<CodesRecord>(Decoded.Can("43 02 03 01 01"));

        Assert.Equal(["P0301"], codes.Codes.Select(c => c.Text));
        Assert.Contains(codes.Remarks, r => r.Contains("(01) stands alone", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("43 03 03 01 01 71", "announces 3 codes and holds 2")]
    [InlineData("43 01 03 01 01 71", "announces 1 code and holds 2")]
    [InlineData("43 02 03 01 00 00", "0000, which is no code")]
    public void A_wrong_number_of_codes_is_said_and_the_codes_stay(string answer, string says)
    {
        var codes = Assert.IsType<CodesRecord>(Decoded.Can(answer));

        Assert.Equal("P0301", codes.Codes[0].Text);
        Assert.Contains(says, Assert.Single(codes.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void A_refusal_says_what_was_refused_and_why()
    {
        var refusal = Assert.IsType<RefusalRecord>(Decoded.Can("7F 01 12"));

        Assert.Equal((1, 0x12, false), (refusal.Service, refusal.Code, refusal.IsPending));
        Assert.Contains("not supported", refusal.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void An_announced_answer_that_comes_is_read_and_one_that_never_comes_is_said()
    {
        Assert.Empty(Decoded.Log("(0.0) can0 7E8#037F0978", "(1.0) can0 7E8#0649005540000000").Problems);

        var never = Decoded.Log("(0.0) can0 7E8#037F0378", "(1.0) can0 7E8#04410C1AF8");
        var late = Decoded.Log("(0.0) can0 7E8#037F0378", "(6.0) can0 7E8#024300");

        Assert.Contains("announced in line 1 never came", Assert.Single(never.Problems).Message, StringComparison.Ordinal);
        Assert.Contains("came after 6.0 s", Assert.Single(late.Problems).Message, StringComparison.Ordinal);
        Assert.Single(late.Records.OfType<CodesRecord>());
    }

    [Theory]
    [InlineData("41 0C 1A", "takes 2 bytes and has 1")]
    [InlineData("41", "names no PID")]
    [InlineData("41 F0 01", "not in this program's list")]
    [InlineData("43", "number of codes is missing")]
    [InlineData("46", "names no monitor")]
    [InlineData("46 A2 0B 24 00", "takes 9 bytes and 4 are left")]
    [InlineData("46 00 C0", "takes 5 bytes and 2 are left")]
    [InlineData("49", "names no information type")]
    [InlineData("49 02", "number of data items is missing")]
    [InlineData("49 02 01 31 47", "a VIN has 17 characters; the answer holds 2")]
    [InlineData("49 04 02 41 42 43 44 45 46 47 48 49 4A 4B 4C 4D 4E 4F 50", "announces 2 calibration identifications and holds 1")]
    [InlineData("7F 01", "it takes 3")]
    [InlineData("42 0C", "without its frame number")]
    [InlineData("42 0C 00 0B B8 0D 01 32", "freeze frames 0 and 1")]
    [InlineData("50 03", "none of SAE J1979")]
    [InlineData("45 01", "service 06 takes its place")]
    public void What_cannot_be_read_says_why(string answer, string says) =>
        Assert.Contains(Decoded.Can(answer).Remarks, r => r.Contains(says, StringComparison.OrdinalIgnoreCase));

    [Fact]
    public void What_stands_before_a_broken_value_is_kept()
    {
        var record = Assert.IsType<ValuesRecord>(Decoded.Can("41 0C 0B B8 05 7B 10 01"));

        Assert.Equal([750, 83], record.Values.Select(v => v.Number!.Value));
        Assert.Contains("PID 10 takes 2 bytes and has 1", Assert.Single(record.Remarks), StringComparison.Ordinal);
    }
}
