using System.CommandLine;
using ShopDiag.Storage;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Web.Verbs;

/// <summary><c>backup FILE</c>, <c>restore FILE</c>, <c>check</c>: a safe copy, put back, verified.</summary>
internal static class BackupVerbs
{
    public static IEnumerable<Command> Create(Option<string?> data) => [Backup(data), Restore(data), Check(data)];

    private static Command Backup(Option<string?> data)
    {
        var file = new Argument<string>("FILE") { Description = "Where to write the backup, a ZIP file." };
        var command = new Command("backup", "Make a backup of a shop, also while it is being served, and write it into one file.") { file };
        command.SetAction((parsed, cancel) => InWordsAsync(async () =>
        {
            await using var services = ShopVerb.Services(DataFolder.Resolve(parsed.GetValue(data)));
            await services.OpenShopForReadingAsync(cancel);
            var target = parsed.GetRequiredValue(file);
            BackupInfo made = null!;
            await ShopVerb.WriteFileAsync(target, async stream => made = await services.GetRequiredService<BackupStore>().WriteAsync(stream, null, cancel));
            await ShopVerb.AnswerAsync(new { backup = made.Name, file = target, made.MadeAt, made.Schema, made.Orders, made.Files, made.Bytes, made.Missing });
            return 0;
        }));
        return command;
    }

    private static Command Restore(Option<string?> data)
    {
        var from = new Argument<string>("FILE") { Description = "A file that backup wrote, or the name of a backup that the shop keeps (check lists them)." };
        var command = new Command("restore", "Put a backup back in place of everything there is now, which is kept first. The shop must not be being served: there, use the page Backups.") { from };
        command.SetAction((parsed, cancel) => InWordsAsync(async () =>
        {
            await using var services = ShopVerb.Services(DataFolder.Resolve(parsed.GetValue(data)));
            var aside = await services.OpenShopForRestoreAsync(cancel);
            var (store, source) = (services.GetRequiredService<BackupStore>(), parsed.GetRequiredValue(from));
            var before = File.Exists(source) ? await store.RestoreFileAsync(source, null, cancel) : await store.RestoreAsync(source, null, cancel);
            await ShopVerb.AnswerAsync(new { restored = source, before, damagedSetAside = aside });
            return 0;
        }));
        return command;
    }

    private static Command Check(Option<string?> data)
    {
        var command = new Command("check", "Look over a shop's records, photos, recordings and backups, also while it is being served. Exit code 1 when something is wrong.");
        command.SetAction((parsed, cancel) => InWordsAsync(async () =>
        {
            await using var services = ShopVerb.Services(DataFolder.Resolve(parsed.GetValue(data)));
            await services.OpenShopForReadingAsync(cancel);
            var store = services.GetRequiredService<BackupStore>();
            var check = await store.CheckAsync(cancel);
            await ShopVerb.AnswerAsync(new { sound = check.IsSound, check, backups = store.List() });
            return check.IsSound ? 0 : ShopVerb.BadInput;
        }));
        return command;
    }

    private static async Task<int> InWordsAsync(Func<Task<int>> run)
    {
        try
        {
            return await run();
        }
        catch (BackupException e)
        {
            return await ShopVerb.WrongAsync(e.Message);
        }
    }
}
