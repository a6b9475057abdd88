using System.Collections.Concurrent;

namespace ShopDiag.Reports.Tests;

public sealed class ParallelTests
{
    [Fact]
    public async Task Eight_at_once_write_the_same_text_every_time()
    {
        var expected = Text(Papers.CustomerReport(Samples.Simple, PaperSize.Letter)) + Text(Papers.PartsList(Samples.SimpleParts, PaperSize.A4));
        var texts = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);

        await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() =>
        {
            for (var i = 0; i < 50; i++)
            {
                var text = Text(Papers.CustomerReport(Samples.Simple, PaperSize.Letter)) + Text(Papers.PartsList(Samples.SimpleParts, PaperSize.A4));
                texts.AddOrUpdate(text, 1, (_, count) => count + 1);
            }
        }, TestContext.Current.CancellationToken)));

        Assert.Equal([KeyValuePair.Create(expected, 400)], texts);
    }

    private static string Text(byte[] bytes)
    {
        using var pdf = new ReadPdf(bytes);
        return pdf.Text;
    }
}
