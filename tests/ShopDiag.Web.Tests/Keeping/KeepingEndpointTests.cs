using System.IO.Compression;
using System.Net;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Keeping;

public sealed class KeepingEndpointTests(RunningShop shop) : IClassFixture<RunningShop>
{
    [Fact]
    public async Task A_kept_backup_is_saved_as_a_file_that_can_be_put_back()
    {
        var backups = shop.Services.GetRequiredService<BackupStore>();
        var made = await backups.MakeAsync(BackupKind.Asked);
        using var answer = await shop.Client.GetAsync(new Uri($"/owner/backups/{made.Name}.zip", UriKind.Relative));
        Assert.Equal(("application/zip", "attachment"), (answer.Content.Headers.ContentType!.MediaType, answer.Content.Headers.ContentDisposition!.DispositionType));
        var file = Path.Combine(shop.DataFolder, "taken.zip");
        await File.WriteAllBytesAsync(file, await answer.Content.ReadAsByteArrayAsync());
        Assert.Equal(["backup.json", "shop.db"], (await ZipFile.OpenReadAsync(file)).Entries.Select(e => e.FullName));
        Assert.NotNull(await backups.RestoreFileAsync(file));
    }

    [Theory]
    [InlineData("/owner/backups/nothing.zip")]
    [InlineData("/owner/backups/..%2F..%2Fshop.zip")]
    [InlineData("/owner/backups/%2Fetc%2Fpasswd.zip")]
    [InlineData("/owner/customers/00000000-0000-0000-0000-000000000001.zip")]
    [InlineData("/owner/customers/..%2Fx.zip")]
    public async Task What_is_not_there_is_not_given_out(string path)
    {
        using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task A_customers_file_holds_the_records_and_the_papers()
    {
        var orders = shop.Services.GetRequiredService<OrderStore>();
        var order = (await orders.GetByNumberAsync(shop.OrderNumber))!;
        await orders.SetFieldAsync(order.Id, OrderField.CustomerName, "Ada Quillfeather", null, Guid.NewGuid(), "Ann");
        // An invoice is among them once there is something on it.
        await shop.Services.GetRequiredService<EstimateStore>().AddLineAsync(order.Id, Guid.NewGuid(), LineKind.Fee, Guid.NewGuid(), "Ann");
        await orders.MoveAsync(order.Id, OrderStage.InRepair, "Ann", "asked for", Guid.NewGuid());
        using var zip = new ZipArchive(await shop.Client.GetStreamAsync(new Uri($"/owner/customers/{order.Customer.Id}.zip", UriKind.Relative)));
        Assert.Equal(["customer.jsonl", $"papers/{shop.OrderNumber}-customer.pdf", $"papers/{shop.OrderNumber}-invoice.pdf"], zip.Entries.Select(e => e.FullName));
        using var text = new StreamReader(zip.GetEntry("customer.jsonl")!.Open());
        Assert.Contains("Ada Quillfeather", await text.ReadToEndAsync(), StringComparison.Ordinal);
    }
}
