using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Storage.Tests.Backups;

public sealed class BackupTests
{
    [Fact]
    public async Task A_backup_made_while_others_write_holds_whole_orders_and_can_be_put_back()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        using var stop = new CancellationTokenSource();
        var writing = Task.Run(async () =>
        {
            for (var i = 0; !stop.IsCancellationRequested; i++)
            {
                await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(1 + (i % 4), 1000 + i));
            }
        });
        var backups = new List<BackupInfo>();
        for (var i = 0; i < 5; i++)
        {
            backups.Add(await shop.Backups.MakeAsync(BackupKind.Asked));
        }

        await stop.CancelAsync();
        await writing;
        Assert.Equal(5, backups.Select(b => b.Name).Distinct().Count());
        Assert.True((await shop.Backups.CheckAsync()).IsSound);
        await shop.Backups.RestoreAsync(backups[2].Name);
        var kept = (await shop.ReadAsync(order)).Readings;
        Assert.Equal(Enumerable.Range(1, kept.Length), kept.Select(r => r.Sequence));
        Assert.Equal("ok", shop.Text("PRAGMA integrity_check"));
    }

    [Fact]
    public async Task What_was_there_before_a_restore_is_kept_and_brought_back_by_one_more()
    {
        await using var shop = await TestShop.OpenAsync();
        var early = await shop.OpenOrderAsync();
        var (stays, goes) = (await shop.AddPhotoAsync(early, 900), await shop.AddPhotoAsync(early, 800));
        var backup = await shop.Backups.MakeAsync(BackupKind.Nightly);
        var late = await shop.OpenOrderAsync();
        File.Delete(shop.PhotoFile(goes));
        await File.WriteAllBytesAsync(shop.PhotoFile(stays), [1, 2, 3]);
        var heard = 0;
        shop.Bus.Replaced += () => heard++;

        var before = await shop.Backups.RestoreAsync(backup.Name);
        Assert.NotNull(await shop.Orders.GetAsync(early.Id));
        Assert.Null(await shop.Orders.GetAsync(late.Id));
        Assert.Equal((900, 800), (new FileInfo(shop.PhotoFile(stays)).Length, new FileInfo(shop.PhotoFile(goes)).Length));
        Assert.Equal(BackupKind.BeforeRestore, shop.Backups.List().Single(b => b.Name == before).Kind);
        Assert.Equal(1, heard);
        // The shop goes on with what was put back.
        await shop.OpenOrderAsync();

        await shop.Backups.RestoreAsync(before!);
        Assert.NotNull(await shop.Orders.GetAsync(late.Id));
        Assert.True((await shop.Backups.CheckAsync()).IsSound);
    }

    [Fact]
    public async Task A_restore_into_an_empty_folder_from_one_file_brings_everything()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1014))!;
        var photo = await shop.AddPhotoAsync(order);
        var file = shop.Folder + ".zip";
        await using (var zip = File.Create(file))
        {
            await shop.Backups.WriteAsync(zip);
        }

        await using var other = await TestShop.OpenAsync();
        Assert.Null(await other.Backups.RestoreFileAsync(file));
        Assert.Equal(order.Readings.Length, (await other.ReadAsync(order)).Readings.Length);
        Assert.Equal(await File.ReadAllBytesAsync(shop.PhotoFile(photo)), await File.ReadAllBytesAsync(other.PhotoFile(photo)));
        Assert.True((await other.Backups.CheckAsync()).IsSound);
        File.Delete(file);
    }

    [Fact]
    public async Task Photos_are_copied_once_for_all_backups_and_go_with_the_last_that_names_them()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var photo = await shop.AddPhotoAsync(order);
        var first = await shop.Backups.MakeAsync(BackupKind.Nightly);
        var copy = Path.Combine(shop.Backups.Folder, "files", "photos", $"{photo:N}.jpg");
        var written = File.GetLastWriteTimeUtc(copy);
        shop.Clock.Advance(TimeSpan.FromDays(1));
        var second = await shop.Backups.MakeAsync(BackupKind.Nightly);
        Assert.Equal((2, 2), (first.Files, second.Files));
        Assert.Equal(written, File.GetLastWriteTimeUtc(copy));

        await shop.Photos.SetRemovedAsync(photo, removed: true, Guid.NewGuid(), "Rosa");
        shop.Clock.Advance(TimeSpan.FromDays(40));
        Assert.Equal(1, await shop.Photos.SweepAsync());
        await shop.Backups.MakeAsync(BackupKind.Nightly);
        Assert.Equal([first.Name, second.Name], await shop.Backups.PruneAsync(new(1, 0, 0)));
        Assert.False(File.Exists(copy));
    }

    [Fact]
    public async Task An_older_database_is_backed_up_before_it_is_brought_up_to_date()
    {
        await using var shop = TestShop.Closed();
        Directory.CreateDirectory(shop.Folder);
        await using (var db = shop.Context())
        {
            var migrations = db.Database.GetMigrations().ToArray();
            await db.GetService<IMigrator>().MigrateAsync(migrations[0]);
        }

        await shop.Services.OpenShopAsync();
        var backup = Assert.Single(shop.Backups.List());
        Assert.Equal(BackupKind.BeforeUpgrade, backup.Kind);
        Assert.EndsWith("_FirstShop", backup.Schema, StringComparison.Ordinal);
        // Put back, it comes up to date by itself.
        await shop.OpenOrderAsync();
        await shop.Backups.RestoreAsync(backup.Name);
        Assert.Empty(await shop.Orders.OpenOrdersAsync());
        await shop.OpenOrderAsync();
    }

    [Fact]
    public async Task A_new_folder_is_opened_without_a_backup_and_opening_again_makes_none()
    {
        await using var shop = await TestShop.OpenAsync();
        await using var again = TestShop.Closed(shop.Folder);
        Assert.Empty(shop.Backups.List());
    }

    [Theory]
    [InlineData("database")]
    [InlineData("photo")]
    [InlineData("missing photo")]
    [InlineData("newer")]
    [InlineData("manifest")]
    public async Task A_backup_that_is_damaged_or_newer_is_refused_and_nothing_changes(string how)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var photo = await shop.AddPhotoAsync(order);
        var backup = await shop.Backups.MakeAsync(BackupKind.Asked);
        var late = await shop.OpenOrderAsync();
        File.Delete(shop.PhotoFile(photo));
        Damage(shop, backup, photo, how);
        if (how != "manifest")
        {
            Assert.NotEmpty((await shop.Backups.CheckAsync()).BackupFaults);
        }

        var refusal = await Assert.ThrowsAsync<BackupException>(() => shop.Backups.RestoreAsync(backup.Name));
        Assert.Matches("damaged|newer|no backup", refusal.Message);
        Assert.NotNull(await shop.Orders.GetAsync(late.Id));
        Assert.DoesNotContain(shop.Backups.List(), b => b.Kind == BackupKind.BeforeRestore);
        Assert.False(Directory.Exists(Path.Combine(shop.Folder, "restore.part")));
        Assert.Empty(Directory.Exists(Path.Combine(shop.Folder, "photos")) ? Directory.GetFiles(Path.Combine(shop.Folder, "photos"), "*.part") : []);
    }

    [Theory]
    [InlineData("../x")]
    [InlineData("..")]
    [InlineData("/etc")]
    [InlineData("20260302T080000Z-asked/../../photos")]
    [InlineData("")]
    public async Task A_name_that_is_no_backup_leads_nowhere(string name)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Backups.MakeAsync(BackupKind.Asked);
        var refusal = await Assert.ThrowsAsync<BackupException>(() => shop.Backups.RestoreAsync(name));
        Assert.Contains("There is no backup", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_names_files_that_are_missing_and_files_that_nobody_speaks_of()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var photo = await shop.AddPhotoAsync(order);
        Assert.Equal(("ok", 0L, true), (await Look(), (await shop.Backups.CheckAsync()).BrokenReferences, (await shop.Backups.CheckAsync()).IsSound));
        var stray = $"photos/{Guid.NewGuid():N}.jpg";
        await File.WriteAllTextAsync(Path.Combine(shop.Folder, stray), "x");
        Assert.Equal(stray, Assert.Single((await shop.Backups.CheckAsync()).OrphanedFiles));
        Assert.True((await shop.Backups.CheckAsync()).IsSound);
        File.Delete(shop.PhotoFile(photo));
        var check = await shop.Backups.CheckAsync();
        Assert.Equal($"photos/{photo:N}.jpg", Assert.Single(check.MissingFiles));
        Assert.False(check.IsSound);
        // A backup is made all the same, and says what it could not hold.
        Assert.Equal(check.MissingFiles, (await shop.Backups.MakeAsync(BackupKind.Asked)).Missing);

        async Task<string> Look() => (await shop.Backups.CheckAsync()).Integrity;
    }

    [Fact]
    public async Task Damaged_records_make_no_backup_and_are_set_aside_when_a_good_one_is_put_back()
    {
        await using var folder = TestShop.Closed();
        string good;
        Guid order;
        await using (var shop = await TestShop.OpenAsync(folder.Folder))
        {
            await shop.Shop.LoadDemoAsync();
            order = (await shop.Orders.GetByNumberAsync(1014))!.Id;
            good = (await shop.Backups.MakeAsync(BackupKind.Nightly)).Name;
        }

        await using (var file = new FileStream(Path.Combine(folder.Folder, "shop.db"), FileMode.Open))
        {
            file.Position = file.Length - (40 * 4096);
            await file.WriteAsync(Enumerable.Repeat((byte)0x5A, 30 * 4096).ToArray());
        }

        await using (var damaged = await TestShop.OpenAsync(folder.Folder))
        {
            Assert.NotEqual("ok", (await damaged.Backups.CheckAsync()).Integrity);
            var refusal = await Assert.ThrowsAsync<BackupException>(() => damaged.Backups.MakeAsync(BackupKind.Nightly));
            Assert.Contains("damaged", refusal.Message, StringComparison.Ordinal);
            Assert.Contains("verb restore", (await Assert.ThrowsAsync<BackupException>(() => damaged.Backups.RestoreAsync(good))).Message, StringComparison.Ordinal);
        }

        await using var again = TestShop.Closed(folder.Folder);
        var aside = await again.Services.OpenShopForRestoreAsync();
        Assert.True(File.Exists(Path.Combine(aside!, "shop.db")));
        Assert.Null(await again.Backups.RestoreAsync(good));
        Assert.NotNull(await again.Orders.GetAsync(order));
        Assert.True((await again.Backups.CheckAsync()).IsSound);
    }

    private static void Damage(TestShop shop, BackupInfo backup, Guid photo, string how)
    {
        var folder = Path.Combine(shop.Backups.Folder, backup.Name);
        var picture = Path.Combine(shop.Backups.Folder, "files", "photos", $"{photo:N}.jpg");
        switch (how)
        {
            case "database":
                using (var file = new FileStream(Path.Combine(folder, "shop.db"), FileMode.Open))
                {
                    file.Position = 5000;
                    file.WriteByte(0x77);
                }

                break;
            case "photo":
                File.WriteAllBytes(picture, new byte[1000]);
                break;
            case "missing photo":
                File.Delete(picture);
                break;
            case "newer":
                using (var database = Opening.Databases.Open(Path.Combine(folder, "shop.db")))
                {
                    database.CommandText = "INSERT INTO __EFMigrationsHistory VALUES ('29990101000000_FromTheFuture', '99.0.0')";
                    database.ExecuteNonQuery();
                }

                Rewrite(folder);
                // The check has the photo to complain of.
                File.Delete(picture);
                break;
            default:
                File.WriteAllText(Path.Combine(folder, "backup.json"), "{}");
                break;
        }
    }

    /// <summary>Makes what the backup says of its database true again.</summary>
    private static void Rewrite(string folder)
    {
        var bytes = File.ReadAllBytes(Path.Combine(folder, "shop.db"));
        var manifest = BackupManifest.Read(File.ReadAllText(Path.Combine(folder, "backup.json")));
        var database = new BackupFile("shop.db", bytes.Length, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)));
        File.WriteAllText(Path.Combine(folder, "backup.json"), (manifest with { Database = database }).Write());
    }
}
