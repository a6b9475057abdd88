using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Tests.Worked;

/// <summary>What the services say beyond the worked examples. Bits and lists of SAE J1979 that no example confirms are from memory, as docs/obd.md says.</summary>
public sealed class ServiceTests
{
    [Fact]
    public void Monitor_status_says_lamp_codes_and_what_has_run()
    {
        var status = Assert.Single(Assert.IsType<ValuesRecord>(Decoded.Can("41 01 82 07 65 04")).Monitors);

        Assert.Equal((true, 2, false), (status.LampOn, status.CodeCount, status.CompressionIgnition));
        Assert.Equal(["Misfire", "Fuel system", "Components", "Catalyst", "Fuel vapour", "Oxygen sensors", "Oxygen sensor heaters"], status.Monitors.Where(m => m.Supported).Select(m => m.Name));
        Assert.Equal(["Fuel vapour"], status.Monitors.Where(m => m is { Supported: true, Complete: false }).Select(m => m.Name));
        Assert.False(status.AllComplete);
    }

    [Fact]
    public void Several_pids_in_one_message_are_told_apart()
    {
        var record = Assert.IsType<ValuesRecord>(Decoded.Can("41 0C 0B B8 06 8F 07 85 05 7B 14 5A FF"));

        Assert.Equal(["rpm", "shortTrim1", "longTrim1", "coolantCelsius", "oxygen1Volts"], record.Values.Select(v => v.Item.Key));
        Assert.Equal(0.45, record.Values[^1].Number!.Value, 1e-9);
        Assert.Empty(record.Remarks);
    }

    [Fact]
    public void A_second_trim_byte_is_the_other_bank() =>
        Assert.Equal([("shortTrim1", 11.71875), ("shortTrim3", -12.5)], Assert.IsType<ValuesRecord>(Decoded.Can("41 06 8F 70")).Values.Select(v => (v.Item.Key, v.Number!.Value)));

    [Theory]
    [InlineData("41 03 02 00", "closed loop")]
    [InlineData("41 03 01 00", "open loop, not warm enough yet")]
    [InlineData("41 51 01", "gasoline")]
    [InlineData("41 1C 01", "OBD II (California)")]
    [InlineData("41 13 33", "bank 1 sensor 1, bank 1 sensor 2, bank 2 sensor 1, bank 2 sensor 2")]
    public void A_coded_value_is_words(string answer, string words) => Assert.Equal(words, Assert.IsType<ValuesRecord>(Decoded.Can(answer)).Values[0].Words);

    [Theory]
    [InlineData("A2 0C 24 00 00 00 00 00 00", TestVerdict.NoResult)]
    [InlineData("A2 0C 24 00 07 00 00 FF FF", TestVerdict.NoLimits)]
    [InlineData("A2 0C 24 00 07 00 00 00 00", TestVerdict.NoLimits)]
    [InlineData("21 80 20 00 00 00 00 00 00", TestVerdict.NoResult)]
    [InlineData("21 80 20 00 05 00 00 00 00", TestVerdict.Failed)]
    [InlineData("21 80 20 00 40 00 00 00 40", TestVerdict.Passed)]
    [InlineData("21 80 20 00 41 00 00 00 40", TestVerdict.Failed)]
    [InlineData("3B 81 FE FF 00 FE 00 01 00", TestVerdict.Passed)]
    [InlineData("3B 81 FE FD 00 FE 00 01 00", TestVerdict.Failed)]
    [InlineData("3B 81 FE 00 00 80 00 7F FF", TestVerdict.NoLimits)]
    public void A_test_is_judged_by_its_limits_and_0_of_0_to_0_is_no_result(string test, TestVerdict verdict) =>
        Assert.Equal(verdict, Assert.Single(Assert.IsType<TestsRecord>(Decoded.Can("46 " + test)).Tests).Verdict);

    [Fact]
    public void A_counter_without_result_is_no_count_of_none()
    {
        var found = ObdFindings.From(Decoded.Log("46 A2 0B 24 00 00 00 00 00 00 A2 0C 24 00 00 00 00 00 00", "46 A3 0B 24 00 00 00 00 FF FF A3 0C 24 00 00 00 00 FF FF"));

        Assert.Equal([new MisfiresFound(1, null, null), new MisfiresFound(2, 0, 0)], found.Misfires);
    }

    [Fact]
    public void A_signed_result_and_its_limits_are_scaled()
    {
        var test = Assert.Single(Assert.IsType<TestsRecord>(Decoded.Can("46 3B 81 FE FF 00 FE 00 01 00")).Tests);

        Assert.Equal((-64.0, -128.0, 64.0, "Pa"), (test.Value, test.Low, test.High, test.Unit!.Unit));
    }

    [Fact]
    public void Names_numbers_and_clearing_are_read()
    {
        var ids = Assert.IsType<VehicleRecord>(Decoded.Can("49 04 01 41 42 43 31 32 33 34 00 00 00 00 00 00 00 00 00"));
        var numbers = Assert.IsType<VehicleRecord>(Decoded.Can("49 06 02 12 34 AB CD 00 00 00 01"));

        Assert.Equal(["ABC1234"], ids.CalibrationIds);
        Assert.Equal(["1234ABCD", "00000001"], numbers.VerificationNumbers);
        Assert.IsType<ClearedRecord>(Decoded.Can("44"));
        Assert.Equal([CodeKind.Stored, CodeKind.Pending, CodeKind.Permanent], new[] { "43 00", "47 00", "4A 00" }.Select(h => Assert.IsType<CodesRecord>(Decoded.Can(h)).Kind));
    }

    [Fact]
    public void A_vin_with_a_wrong_check_digit_warns_and_an_empty_one_is_none()
    {
        var wrong = Assert.IsType<VehicleRecord>(Decoded.Can("49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 38"));
        var empty = Assert.IsType<VehicleRecord>(Decoded.Can("49 02 01 FF FF FF FF FF FF FF FF FF FF FF FF FF FF FF FF FF"));

        Assert.Contains("check digit", Assert.Single(wrong.Vin!.Warnings), StringComparison.Ordinal);
        Assert.Null(empty.Vin);
        Assert.Contains("holds no VIN", Assert.Single(empty.Remarks), StringComparison.Ordinal);
    }
}
