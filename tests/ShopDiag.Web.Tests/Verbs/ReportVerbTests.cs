using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage;
using ShopDiag.Storage.Shop;
using UglyToad.PdfPig;

namespace ShopDiag.Web.Tests.Verbs;

public sealed class ReportVerbTests
{
    [Fact]
    public async Task Both_papers_of_a_demo_order_are_written_while_the_shop_is_being_served()
    {
        var folder = Directory.CreateTempSubdirectory("shopdiag-report").FullName;
        try
        {
            await using var services = new ServiceCollection().AddLogging().AddShopStorage(folder).BuildServiceProvider();
            await services.OpenShopAsync();
            await services.GetRequiredService<ShopStore>().LoadDemoAsync();

            foreach (var kind in new[] { "customer", "parts" })
            {
                var file = Path.Combine(folder, kind + ".pdf");
                var (code, _, errors) = await Shell.RunAsync("", "report", kind, "1003", file, "--data", folder, "--paper", "a4");

                Assert.Equal((0, ""), (code, errors));
                using var pdf = PdfDocument.Open(file);
                Assert.Contains("1003", string.Join(" ", pdf.GetPages().Select(p => p.Text)), StringComparison.Ordinal);
                Assert.Equal(842, pdf.GetPage(1).Height, 0.5);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
