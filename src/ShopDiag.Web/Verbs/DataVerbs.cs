using System.CommandLine;
using System.IO.Compression;
using ShopDiag.Storage;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;

namespace ShopDiag.Web.Verbs;

/// <summary><c>export FILE</c>, <c>import FILE</c>: all of the shop's data in an open form, out and in (docs/data.md). <c>customer export|erase ORDER</c>: what the shop has of one person.</summary>
internal static class DataVerbs
{
    public static IEnumerable<Command> Create(Option<string?> data) => [Export(data), Import(data), Customer(data)];

    private static Command Export(Option<string?> data)
    {
        var file = new Argument<string>("FILE") { Description = "Where to write, a ZIP file." };
        var command = new Command("export", "Write all of a shop's data out, also while it is being served.") { file };
        command.SetAction(async (parsed, cancel) =>
        {
            await using var services = ShopVerb.Services(DataFolder.Resolve(parsed.GetValue(data)));
            await services.OpenShopForReadingAsync(cancel);
            var (target, count) = (parsed.GetRequiredValue(file), default(ShopDataCount));
            await ShopVerb.WriteFileAsync(target, stream => Task.Run(() => count = services.GetRequiredService<ShopData>().Export(stream, cancel), cancel));
            await ShopVerb.AnswerAsync(new { exported = target, count.Rows, count.Files });
            return 0;
        });
        return command;
    }

    private static Command Import(Option<string?> data)
    {
        var file = new Argument<string>("FILE") { Description = "A file that export wrote." };
        var command = new Command("import", "Read a shop's data into an empty folder.") { file };
        command.SetAction(async (parsed, cancel) =>
        {
            try
            {
                await using var services = ShopVerb.Services(DataFolder.Resolve(parsed.GetValue(data)));
                await services.OpenShopAsync(cancel);
                var source = parsed.GetRequiredValue(file);
                var count = await services.GetRequiredService<ShopData>().ImportAsync(source, cancel);
                await ShopVerb.AnswerAsync(new { imported = source, count.Rows, count.Files });
                return 0;
            }
            catch (ShopDataException e)
            {
                return await ShopVerb.WrongAsync(e.Message);
            }
        });
        return command;
    }

    private static Command Customer(Option<string?> data)
    {
        var command = new Command("customer", "What the shop has of a person: hand it out, or erase it.");
        var number = new Argument<int>("ORDER") { Description = "Number of one of the customer's orders." };
        var file = new Argument<string>("FILE") { Description = "Where to write, a ZIP file." };
        var export = new Command("export", "Write all that the shop has of the customer of an order.") { number, file };
        export.SetAction((parsed, cancel) => OnCustomerAsync(DataFolder.Resolve(parsed.GetValue(data)), parsed.GetRequiredValue(number), reading: true, async (customers, id) =>
        {
            var target = parsed.GetRequiredValue(file);
            await ShopVerb.WriteFileAsync(target, stream => Task.Run(() =>
            {
                using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
                customers.Export(id, zip, cancel);
            }, cancel));
            await ShopVerb.AnswerAsync(new { exported = target });
            return 0;
        }, cancel));
        var erase = new Command("erase", "Erase the customer of an order; the work stays without the person. The shop must not be being served: there, use the page Customers' data.") { number };
        erase.SetAction((parsed, cancel) => OnCustomerAsync(DataFolder.Resolve(parsed.GetValue(data)), parsed.GetRequiredValue(number), reading: false, async (customers, id) =>
        {
            var result = await customers.EraseAsync(id, "", cancel);
            if (result.Outcome == SaveOutcome.Refused)
            {
                return await ShopVerb.WrongAsync(result.Message);
            }

            await ShopVerb.AnswerAsync(new { erased = id });
            return 0;
        }, cancel));
        command.Add(export);
        command.Add(erase);
        return command;
    }

    private static async Task<int> OnCustomerAsync(string folder, int number, bool reading, Func<CustomerStore, Guid, Task<int>> act, CancellationToken cancel)
    {
        await using var services = ShopVerb.Services(folder);
        await (reading ? services.OpenShopForReadingAsync(cancel) : services.OpenShopAsync(cancel));
        return await services.GetRequiredService<OrderStore>().GetByNumberAsync(number, cancel) is { } order
            ? await act(services.GetRequiredService<CustomerStore>(), order.Customer.Id)
            : await ShopVerb.WrongAsync($"There is no order {number} in {folder}.");
    }
}
