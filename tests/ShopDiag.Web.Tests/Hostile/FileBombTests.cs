using System.Buffers.Binary;
using System.Diagnostics;
using System.Net;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Tests.Integration;
using ShopDiag.Web.Tests.WorkupViews;

namespace ShopDiag.Web.Tests.Hostile;

/// <summary>Small files that say they are large, and files that are no files: refused in words, in a moment, and nothing of them is kept.</summary>
public sealed class FileBombTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private static readonly TimeSpan Moment = TimeSpan.FromSeconds(30);

    public static TheoryData<string, byte[]> Sounds => new()
    {
        { "says it is 4 GB", Wav(1, 48_000, 16, uint.MaxValue, 1000) },
        { "no channels", Wav(0, 48_000, 16, 1000, 1000) },
        { "65535 channels", Wav(65_535, 48_000, 16, 1_000_000, 1_000_000) },
        { "a sample a second", Wav(1, 1, 16, 1_000_000, 1_000_000) },
        { "no rate", Wav(1, 0, 16, 1000, 1000) },
        { "four thousand million samples a second", Wav(1, uint.MaxValue, 16, 1000, 1000) },
        { "one bit", Wav(1, 48_000, 1, 1000, 1000) },
        { "nothing after the head", Wav(1, 48_000, 16, 1000, 0) },
        { "half a head", Wav(1, 48_000, 16, 1000, 0)[..21] },
        { "zeros", new byte[1_000_000] },
        { "a chunk of 4 GB before the sound", [.. "RIFF"u8, 255, 255, 255, 255, .. "WAVEjunk"u8, 255, 255, 255, 255, .. new byte[1000]] },
        { "a thousand empty chunks", [.. "RIFF"u8, 0, 0, 0, 0, .. "WAVE"u8, .. Enumerable.Range(0, 100_000).SelectMany(_ => "junk\0\0\0\0"u8.ToArray())] },
    };

    public static TheoryData<string, string> Logs => new()
    {
        { "one line without an end", new string('1', 5_000_000) },
        { "a million columns", "time" + string.Concat(Enumerable.Repeat(",rpm", 1_000_000)) + "\n" + string.Concat(Enumerable.Repeat("1,", 1_000_000)) },
        { "quotes that never close", "time,rpm\n\"" + new string('x', 3_000_000) },
        { "absurd numbers", "time,rpm\n" + string.Concat(Enumerable.Range(0, 1000).Select(i => $"{i}e300,1e999\n")) },
        { "no numbers", "time,rpm\n" + string.Concat(Enumerable.Repeat("NaN,Infinity\n", 1000)) },
        { "zeros", new string('\0', 1_000_000) },
        { "a workbook", "PK\u0003\u0004" + new string('x', 100_000) },
    };

    [Theory]
    [MemberData(nameof(Sounds))]
    public Task A_sound_that_is_none_is_refused_in_a_moment(string what, byte[] file) => RefusedAsync("wav", what, file);

    [Theory]
    [MemberData(nameof(Logs))]
    public Task A_log_that_is_none_is_refused_in_a_moment(string what, string file) => RefusedAsync("csv", what, Encoding.UTF8.GetBytes(file));

    private async Task RefusedAsync(string kind, string what, byte[] file)
    {
        var orders = shop.Services.GetRequiredService<OrderStore>();
        var order = (await orders.GetByNumberAsync(shop.OrderNumber))!;
        await orders.SetEngineAsync(order.Id, ABench.V6Spec, "V6", Guid.NewGuid(), "Ann");
        var before = GC.GetTotalAllocatedBytes();
        var watch = Stopwatch.StartNew();
        using var content = new ByteArrayContent(file);
        using var answer = await shop.Client.PutAsync(new Uri($"/orders/{shop.OrderNumber}/recordings/{Guid.NewGuid()}?kind={kind}", UriKind.Relative), content);
        Assert.True(answer.StatusCode == HttpStatusCode.BadRequest, $"{what}: {answer.StatusCode}");
        Assert.InRange((await answer.Content.ReadAsStringAsync()).Length, 10, 500);
        Assert.True(watch.Elapsed < Moment, $"{what}: {watch.Elapsed}");
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 400_000_000 + (20L * file.Length));
        var folder = Path.Combine(shop.DataFolder, "recordings");
        Assert.Empty(Directory.Exists(folder) ? Directory.GetFiles(folder) : []);
    }

    private static byte[] Wav(ushort channels, uint rate, ushort bits, uint says, int holds)
    {
        var file = new byte[44 + holds];
        "RIFF"u8.CopyTo(file);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(4), says + 36);
        "WAVEfmt "u8.CopyTo(file.AsSpan(8));
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(16), 16);
        BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(20), 1);
        BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(22), channels);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(24), rate);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(28), unchecked(rate * channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(32), (ushort)(channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(file.AsSpan(34), bits);
        "data"u8.CopyTo(file.AsSpan(36));
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(40), says);
        return file;
    }
}
