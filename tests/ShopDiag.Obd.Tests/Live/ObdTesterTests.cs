using CsCheck;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Live;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Tests.Live;

/// <summary>The tester against simulated control units over a pair of streams: no machine of ours has a CAN interface.</summary>
public sealed class ObdTesterTests
{
    private static SimulatedUnit Engine(IObdLink link, CanId id) => new SimulatedUnit(link, id)
        .Says("01 00", "41 00 1E 18 00 00").Says("01 04", "41 04 5A").Says("01 05", "41 05 7B").Says("01 06", "41 06 8F").Says("01 07", "41 07 85").Says("01 0C", "41 0C 0B B8").Says("01 0D", "41 0D 00")
        .Says("09 00", "49 00 40 00 00 00").Says("09 02", "7F 09 78|49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 37")
        .Says("03", "43 06 01 43 01 96 02 34 02 CD 03 57 0A 24").Says("07", "47 00").Says("0A", "7F 0A 11")
        .Says("02 02 00", "42 02 00 01 43").Says("02 00 00", "42 00 00 00 10 00 00").Says("02 0C 00", "42 0C 00 0B B8")
        .Says("06 00", "46 00 00 00 00 01").Says("06 20", "46 20 00 00 00 01").Says("06 40", "46 40 00 00 00 01").Says("06 60", "46 60 00 00 00 01").Says("06 80", "46 80 00 00 00 01")
        .Says("06 A0", "46 A0 40 00 00 00").Says("06 A2", "46 A2 0B 24 00 2D 00 00 FF FF A2 0C 24 00 07 00 00 FF FF")
        .Says("01 0C 03 0D 06 07 08", "41 0C 0B B8 03 02 00 0D 00 06 8F 07 85").Says("01 0C 09", "41 0C 0B B8");

    [Fact]
    public async Task A_simulated_car_is_read_whole()
    {
        var (findings, unit) = await ReadAsync(Decoded.Engine, CanId.AskAll, TimeSpan.FromMilliseconds(400));

        Assert.Equal("1G1JC5444R7252367", Assert.Single(findings.Vins).Vin.Text);
        Assert.Equal(["P0143", "P0196", "P0234", "P02CD", "P0357", "P0A24"], findings.Codes[0].Codes.Select(c => c.Text));
        Assert.Equal([CodeKind.Stored, CodeKind.Pending], findings.Codes.Select(c => c.Kind));
        Assert.Equal(("P0143", 750.0), (Assert.Single(findings.FreezeFrames).Code!.Text, findings.FreezeFrames[0].Values[0].Number!.Value));
        Assert.Equal(new MisfiresFound(1, 7, 45), Assert.Single(findings.Misfires));
        Assert.Equal(new TrimsFound(1, TrimPoint.Idle, 11.71875, 3.90625, findings.Trims[0].Readings), Assert.Single(findings.Trims));
        Assert.NotEmpty(findings.Speed);
        Assert.DoesNotContain("04", unit.Asked);
    }

    [Fact]
    public async Task A_car_that_answers_with_29_bits_is_found()
    {
        var (findings, _) = await ReadAsync(new CanId(0x18DAF110, true), CanId.AskAllExtended, TimeSpan.Zero);

        Assert.Equal("18DAF110", Assert.Single(findings.Units).Id);
        Assert.Single(findings.Vins);
    }

    [Fact]
    public async Task A_car_that_does_not_answer_is_said_and_a_link_that_ends_is_an_error()
    {
        var (tester, unit) = SimulatedUnit.Bus();

        Assert.False(await new ObdTester(tester, TimeProvider.System).ReadAllAsync());
        await unit.DisposeAsync();
        await Assert.ThrowsAsync<IOException>(() => new ObdTester(tester, TimeProvider.System).ReadAllAsync());
        await tester.DisposeAsync();
    }

    [Fact]
    public void A_frame_written_as_the_kernel_does_is_read_back() =>
        Gen.Select(Gen.Bool, Gen.UInt[0, 0x1FFFFFFF], Gen.Byte.Array[0, 8]).Sample((extended, value, data) =>
        {
            var frame = new CanFrame(new CanId(extended ? value : value & 0x7FF, extended), [.. data]);
            var read = SocketCanCodec.Read(SocketCanCodec.Write(frame))!;

            Assert.Equal(frame.Id, read.Id);
            Assert.Equal(frame.Data, read.Data);
        }, iter: 2000);

    [Theory]
    [InlineData("E8 07 00 40 00 00 00 00 00 00 00 00 00 00 00 00")]
    [InlineData("04 00 00 20 08 00 00 00 00 00 00 00 00 00 00 00")]
    [InlineData("E8 07 00 00 0C 00 00 00 00 00 00 00 00 00 00 00")]
    [InlineData("E8 07 00 00")]
    public void Remote_requests_error_frames_and_others_are_no_frames(string bytes) => Assert.Null(SocketCanCodec.Read(Decoded.Bytes(bytes)));

    [Fact]
    public void The_bytes_are_those_of_the_kernels_struct() =>
        Assert.Equal("DF070000080000000201000000000000", Convert.ToHexString(SocketCanCodec.Write(new CanFrame(CanId.AskAll, [2, 1, 0, 0, 0, 0, 0, 0]))));

    private static async Task<(ObdFindings Findings, SimulatedUnit Unit)> ReadAsync(CanId id, CanId askAll, TimeSpan follow)
    {
        var (link, end) = SimulatedUnit.Bus();
        var unit = Engine(end, id);
        unit = askAll == CanId.AskAll ? unit : unit.WithAskAll(askAll);
        using var gone = new CancellationTokenSource();
        var running = unit.RunAsync(gone.Token);
        var tester = new ObdTester(link, TimeProvider.System);

        Assert.True(await tester.ReadAllAsync());
        await tester.FollowAsync(follow);
        var log = tester.Log();

        Assert.Empty(log.Problems);
        await link.DisposeAsync();
        await end.DisposeAsync();
        await running;
        return (ObdFindings.From(log), unit);
    }
}
