using System.IO.Compression;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.HttpResults;
using ShopDiag.Reports;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Papers;
using ShopDiag.Web.People;
using ShopDiag.Web.Photos;

namespace ShopDiag.Web.Keeping;

/// <summary>Backups and customers' data as files. For the owner.</summary>
public static class KeepingEndpoints
{
    /// <summary>Adds <c>GET /owner/backups/{name}.zip</c> and <c>GET /owner/customers/{id}.zip</c>.</summary>
    public static void MapKeeping(this IEndpointRouteBuilder app)
    {
        // One at a time: each reads every photo there is.
        var gate = new SemaphoreSlim(1);
        app.MapGet("/owner/backups/{name}.zip", (string name, BackupStore store, HttpContext http) => BackupFile(name, store, gate, http)).Needs(Permission.KeepData);
        app.MapGet("/owner/customers/{id:guid}.zip", CustomerFileAsync).Needs(Permission.KeepData);
    }

    /// <summary>The address of a kept backup as a file.</summary>
    public static string Address(BackupInfo backup)
    {
        ArgumentNullException.ThrowIfNull(backup);
        return $"/owner/backups/{backup.Name}.zip";
    }

    /// <summary>The address of a customer's data.</summary>
    public static string Address(Guid customer) => $"/owner/customers/{customer}.zip";

    private static Results<PushStreamHttpResult, NotFound> BackupFile(string name, BackupStore store, SemaphoreSlim gate, HttpContext http)
    {
        if (store.List().All(b => b.Name != name))
        {
            return TypedResults.NotFound();
        }

        // ZIP files are put together by a library that writes without waiting for the network; it has a thread of its own.
        http.Features.GetRequiredFeature<IHttpBodyControlFeature>().AllowSynchronousIO = true;
        return TypedResults.Stream(
            async stream =>
            {
                await gate.WaitAsync(http.RequestAborted);
                try
                {
                    await store.WriteAsync(name, stream, http.RequestAborted);
                }
                finally
                {
                    gate.Release();
                }
            },
            "application/zip",
            $"shopdiag-{name}.zip");
    }

    /// <summary>All that the shop has of a customer, and the papers of their orders as the customer had them.</summary>
    private static async Task<Results<FileStreamHttpResult, NotFound>> CustomerFileAsync(
        Guid id, CustomerStore customers, OrderStore orders, ShopStore shops, PaperMaker maker, PhotosForPaper photos, CancellationToken cancel)
    {
        if (await customers.GetAsync(id, cancel) is not { } customer)
        {
            return TypedResults.NotFound();
        }

        // On disk, and gone with the answer: photos and sound of years may not fit into the memory.
        var file = new FileStream(Path.GetTempFileName(), FileMode.Open, FileAccess.ReadWrite, FileShare.None, 81920, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        try
        {
            using (var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true))
            {
                await Task.Run(() => customers.Export(id, zip, cancel), cancel);
                var settings = await shops.GetAsync(cancel) ?? new ShopSettings();
                var paper = PaperSizes.Parse(settings.Paper).Value;
                foreach (var number in customer.Orders)
                {
                    if (await orders.GetByNumberAsync(number, cancel) is { } order)
                    {
                        Add(zip, $"papers/{number}-customer.pdf", maker.CustomerReport(order, settings, await photos.OfAsync(order, cancel), paper));
                        Add(zip, $"papers/{number}-invoice.pdf", maker.Invoice(order, settings, paper));
                    }
                }
            }

            file.Position = 0;
            return TypedResults.File(file, "application/zip", $"customer-{id}.zip");
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    private static void Add(ZipArchive zip, string name, byte[]? bytes)
    {
        if (bytes is not null)
        {
            using var entry = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
            entry.Write(bytes);
        }
    }
}
