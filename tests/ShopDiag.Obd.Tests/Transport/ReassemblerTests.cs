using CsCheck;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Tests.Transport;

public sealed class ReassemblerTests
{
    private static readonly CanId Gearbox = new(0x7E9, false);

    [Fact]
    public void Cutting_and_putting_together_gives_the_message_back() =>
        Gen.Byte.Array[1, 4095].Sample(message =>
        {
            var reassembler = new Reassembler();
            var results = Segmenter.Cut(Decoded.Engine, message).Select(reassembler.Add).ToList();

            Assert.All(results, r => Assert.Null(r.Problem));
            Assert.Equal(message, results[^1].Message!.Bytes);
            Assert.All(results.SkipLast(1), r => Assert.Null(r.Message));
            Assert.Empty(reassembler.Unfinished());
        }, iter: 2000);

    [Fact]
    public void Any_interleaving_of_control_units_gives_each_its_message() =>
        Gen.Select(Gen.Byte.Array[1, 200], Gen.Byte.Array[1, 200], Gen.Bool.Array[80]).Sample((a, b, turns) =>
        {
            var reassembler = new Reassembler();
            var (first, second) = (new Queue<CanFrame>(Segmenter.Cut(Decoded.Engine, a)), new Queue<CanFrame>(Segmenter.Cut(Gearbox, b)));
            var messages = new Dictionary<CanId, byte[]>();
            for (var i = 0; first.Count + second.Count > 0; i++)
            {
                var from = second.Count == 0 || (first.Count > 0 && turns[i % turns.Length]) ? first : second;
                if (reassembler.Add(from.Dequeue()).Message is { } message)
                {
                    messages.Add(message.Id!.Value, [.. message.Bytes]);
                }
            }

            Assert.Equal(a, messages[Decoded.Engine]);
            Assert.Equal(b, messages[Gearbox]);
        }, iter: 2000);

    [Fact]
    public void A_lost_frame_never_gives_a_message() =>
        Gen.Select(Gen.Byte.Array[20, 300], Gen.Int[0, 1000]).Sample((bytes, which) =>
        {
            var frames = Segmenter.Cut(Decoded.Engine, bytes);
            var lost = which % frames.Length;
            var reassembler = new Reassembler();
            var results = frames.Where((_, i) => i != lost).Select(reassembler.Add).ToList();

            Assert.All(results, r => Assert.Null(r.Message));
            Assert.True(results.Exists(r => r.Problem is not null) || reassembler.Unfinished().Any());
        }, iter: 2000);

    [Theory]
    [InlineData(0.99, true)]
    [InlineData(1.01, false)]
    public void A_second_between_two_frames_is_the_longest(double gap, bool whole)
    {
        var reassembler = new Reassembler();
        var frames = Segmenter.Cut(Decoded.Engine, new byte[12]);
        reassembler.Add(frames[0] with { Seconds = 10 });

        var (message, problem) = reassembler.Add(frames[1] with { Seconds = 10 + gap });

        Assert.Equal((whole, whole), (message is not null, problem is null));
        Assert.True(whole || problem!.Contains("longer than", StringComparison.Ordinal));
    }

    [Fact]
    public void Flow_control_starts_the_time_anew_and_an_overflow_ends_the_message()
    {
        var frames = Segmenter.Cut(Decoded.Engine, new byte[12]);
        var request = Decoded.Engine.Reverse;
        var waiting = new Reassembler();
        waiting.Add(frames[0] with { Seconds = 0 });
        waiting.Add(Segmenter.GoOn(request) with { Data = [0x31, 0, 0], Seconds = 0.9 });
        waiting.Add(Segmenter.GoOn(request) with { Seconds = 1.8 });
        var full = new Reassembler();
        full.Add(frames[0]);

        Assert.NotNull(waiting.Add(frames[1] with { Seconds = 2.7 }).Message);
        Assert.Contains("no room", full.Add(Segmenter.GoOn(request) with { Data = [0x32, 0, 0] }).Problem, StringComparison.Ordinal);
        Assert.Null(full.Add(frames[1]).Message);
    }

    [Theory]
    [InlineData("00 00", "length 0")]
    [InlineData("07 41 0C", "says 7 bytes and holds 2")]
    [InlineData("0F 41 0C 1A F8 00 00 00", "says 15 bytes and holds 7")]
    [InlineData("10 14 49", "first frame of 3 bytes")]
    [InlineData("10 07 49 02 01 31 47 31", "would fit a single frame")]
    [InlineData("10 00 00 00 10 00 49 02", "more than 4095 bytes")]
    [InlineData("40 00", "frame type 4")]
    [InlineData("", "without bytes")]
    public void A_frame_against_the_rules_says_which(string data, string says) =>
        Assert.Contains(says, new Reassembler().Add(new CanFrame(Decoded.Engine, [.. Decoded.Bytes(data)])).Problem, StringComparison.Ordinal);

    [Fact]
    public void A_new_message_breaks_the_open_one_off_and_is_read_itself()
    {
        var reassembler = new Reassembler();
        reassembler.Add(Segmenter.Cut(Decoded.Engine, new byte[30])[0]);

        var (message, problem) = reassembler.Add(Segmenter.Cut(Decoded.Engine, [0x44])[0]);

        Assert.Equal([0x44], message!.Bytes);
        Assert.Contains("a new message began", problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0x7DFu, false, CanRole.FunctionalRequest)]
    [InlineData(0x7E0u, false, CanRole.PhysicalRequest)]
    [InlineData(0x7E7u, false, CanRole.PhysicalRequest)]
    [InlineData(0x7E8u, false, CanRole.Answer)]
    [InlineData(0x7EFu, false, CanRole.Answer)]
    [InlineData(0x7F0u, false, CanRole.Other)]
    [InlineData(0x18DB33F1u, true, CanRole.FunctionalRequest)]
    [InlineData(0x18DA10F1u, true, CanRole.PhysicalRequest)]
    [InlineData(0x18DAF110u, true, CanRole.Answer)]
    [InlineData(0x18FEF100u, true, CanRole.Other)]
    [InlineData(0x7E8u, true, CanRole.Other)]
    public void Identifiers_have_the_roles_of_iso_15765_4(uint value, bool extended, CanRole role)
    {
        var id = new CanId(value, extended);

        Assert.Equal(role, id.Role);
        if (role is CanRole.Answer or CanRole.PhysicalRequest)
        {
            Assert.Equal(id, id.Reverse.Reverse);
            Assert.NotEqual(role, id.Reverse.Role);
        }
    }
}
