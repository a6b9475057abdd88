using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Tests.Worked;

/// <summary>
/// Examples D04 to D10, byte by byte. Sources: D04 public PID tables of SAE J1979 and computed; D05 a public example; D06 the example of service 03 in SAE J1979 / ISO 15031-5,
/// from memory; D07 its example VIN, check digit computed by 49 CFR 565; D08 made up after Land Rover 2008 LR3 manual, "Mode $06 Data"; D09 formula printed in Honda 2012 Insight
/// manual, "Mode $06"; D10 made up after SAE J1979.
/// </summary>
public sealed class WorkedExampleTests
{
    [Theory]
    [InlineData("41 04 5A", 35.294)]
    [InlineData("41 05 7B", 83)]
    [InlineData("41 06 8F", 11.719)]
    [InlineData("41 07 85", 3.906)]
    [InlineData("41 08 70", -12.5)]
    [InlineData("41 06 80", 0)]
    [InlineData("41 06 00", -100)]
    [InlineData("41 06 FF", 99.219)]
    [InlineData("41 0B 65", 101)]
    [InlineData("41 0C 1A F8", 1726)]
    [InlineData("41 0C 0B B8", 750)]
    [InlineData("41 0D 32", 50)]
    [InlineData("41 0E 9A", 13)]
    [InlineData("41 0E 94", 10)]
    [InlineData("41 0F 3C", 20)]
    [InlineData("41 10 01 0E", 2.70)]
    [InlineData("41 11 26", 14.902)]
    [InlineData("41 1F 01 2C", 300)]
    [InlineData("41 42 36 B0", 14.000)]
    [InlineData("41 44 80 00", 1.0000)]
    [InlineData("41 44 73 33", 0.89999)]
    [InlineData("41 44 8F 5C", 1.12000)]
    public void D04_each_value_is_the_printed_one(string answer, double printed) => Assert.Equal(printed, Decoded.Value(answer), 0.0005);

    [Fact]
    public void D04_the_largest_trim_is_exact() => Assert.Equal(99.21875, Decoded.Value("41 06 FF"));

    [Fact]
    public void D04_on_the_bus_the_length_cuts_the_filling_off()
    {
        var log = Decoded.Log("7DF 02 01 0C 00 00 00 00 00", "7E8 04 41 0C 1A F8 00 00 00");

        Assert.Equal([0x0C], Assert.IsType<RequestRecord>(log.Records[0]).Ids);
        Assert.Equal(1726, Assert.Single(Assert.IsType<ValuesRecord>(log.Records[1]).Values).Number);
        Assert.Empty(log.Problems);
    }

    [Fact]
    public void D05_the_mask_names_the_supported_pids() =>
        Assert.Equal([0x01, 0x03, 0x04, 0x05, 0x06, 0x07, 0x0C, 0x0D, 0x0E, 0x0F, 0x10, 0x11, 0x13, 0x15, 0x1C, 0x1F, 0x20], Assert.IsType<ValuesRecord>(Decoded.Can("41 00 BE 1F A8 13")).Supported);

    [Fact]
    public void D06_six_codes_over_three_frames()
    {
        var log = Decoded.Log("7DF 01 03", "7E8 10 0E 43 06 01 43 01 96", "7E0 30 00 00", "7E8 21 02 34 02 CD 03 57 0A", "7E8 22 24");

        var codes = Assert.IsType<CodesRecord>(log.Records[1]);
        Assert.Equal(["P0143", "P0196", "P0234", "P02CD", "P0357", "P0A24"], codes.Codes.Select(c => c.Text));
        Assert.Equal(CodeKind.Stored, codes.Kind);
        Assert.Empty(codes.Remarks);
        Assert.Empty(log.Problems);
    }

    [Theory]
    [InlineData("03 00", "P0300")]
    [InlineData("03 0C", "P030C")]
    [InlineData("03 12", "P0312")]
    [InlineData("01 71", "P0171")]
    [InlineData("21 35", "P2135")]
    [InlineData("C1 00", "U0100")]
    [InlineData("92 34", "B1234")]
    [InlineData("40 35", "C0035")]
    [InlineData("15 16", "P1516")]
    [InlineData("34 00", "P3400")]
    public void D06_two_bytes_are_the_printed_code(string bytes, string code) =>
        Assert.Equal(code, Assert.Single(Assert.IsType<CodesRecord>(Decoded.Can($"43 01 {bytes}")).Codes).Text);

    [Fact]
    public void D06_a_hexadecimal_digit_is_no_cylinder_and_a_decimal_one_is()
    {
        var codes = Assert.IsType<CodesRecord>(Decoded.Can("47 02 03 0C 03 12")).Codes;

        Assert.Equal([null, 12], codes.Select(c => c.MisfireCylinder));
    }

    [Fact]
    public void D06_the_number_of_codes_is_not_taken_for_a_code() =>
        Assert.Equal(["P0301", "P0171"], Decoded.Only<CodesRecord>("7E8 06 43 02 03 01 01 71").Codes.Select(c => c.Text));

    [Fact]
    public void D07_the_vin_comes_whole_and_its_check_digit_fits()
    {
        var vin = Decoded.Only<VehicleRecord>("7DF 02 09 02", "7E8 10 14 49 02 01 31 47 31", "7E0 30 00 00", "7E8 21 4A 43 35 34 34 34 52", "7E8 22 37 32 35 32 33 36 37").Vin!;

        Assert.Equal("1G1JC5444R7252367", vin.Text);
        Assert.Empty(vin.Warnings);
        Assert.Equal('4', Diagnosis.Vehicles.Vin.CheckDigit(vin.Text));
    }

    [Fact]
    public void D08_two_tests_of_cylinder_1_in_one_message()
    {
        var log = Decoded.Log("7DF 02 06 A2", "7E8 10 13 46 A2 0B 24 00 2D", "7E0 30 00 00", "7E8 21 00 00 FF FF A2 0C 24", "7E8 22 00 07 00 00 FF FF");

        var tests = Assert.Single(log.Records.OfType<TestsRecord>()).Tests;
        Assert.Equal([(0xA2, 0x0B, 0x24, 45.0, 0.0, 65535.0), (0xA2, 0x0C, 0x24, 7.0, 0.0, 65535.0)], tests.Select(t => ((int)t.MonitorId, (int)t.TestId, (int)t.UnitId, t.Value, t.Low, t.High)));
        Assert.All(tests, t => Assert.Equal(1, t.Cylinder));
        Assert.Equal(new MisfiresFound(1, 7, 45), Assert.Single(ObdFindings.From(log).Misfires));
    }

    [Fact]
    public void D09_the_average_over_driving_cycles()
    {
        double[] averages = [12.0, 10.8, 9.72, 13.748];
        var average = 10.0;
        foreach (var (misfires, next) in new[] { 30.0, 0, 0, 50 }.Zip(averages))
        {
            average = MisfireAverage.Next(average, misfires);
            Assert.Equal(next, average, 1e-9);
        }

        Assert.Equal(41.2, new MisfiresFound(1, 7, 45).AverageToCome!.Value, 1e-9);
        Assert.Null(new MisfiresFound(1, null, 45).AverageToCome);
    }

    [Fact]
    public void D10_the_freeze_frame_says_its_code_and_its_values_or_that_there_is_none()
    {
        var log = Decoded.Log("7E8 05 42 02 00 03 01 00 00", "7E8 05 42 0C 00 0B B8 00 00");
        var frame = Assert.Single(ObdFindings.From(log).FreezeFrames);

        Assert.Equal(("P0301", 750.0), (frame.Code!.Text, Assert.Single(frame.Values).Number!.Value));
        var none = Assert.IsType<FreezeFrameRecord>(Decoded.Can("42 02 00 00 00"));
        Assert.True(none.Empty);
        Assert.Null(none.Code);
        Assert.Empty(ObdFindings.From(Decoded.Log("42 02 00 00 00")).FreezeFrames);
    }
}
