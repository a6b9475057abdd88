using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;

namespace ShopDiag.Storage.Tests.Photos;

public sealed class PhotoStoreTests
{
    private static readonly byte[] Full = [1, 2, 3, 4, 5];
    private static readonly byte[] Small = [1, 2];

    [Fact]
    public async Task A_photo_comes_back_as_it_was_put_on_the_order()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = Of(await shop.OpenOrderAsync()) with { Test = "leak-down", At = Place.Pair(3, 4), Stage = Stage.After, TakenAt = shop.Clock.GetUtcNow().UtcDateTime.AddHours(-1) };
        Assert.Equal(SaveOutcome.Saved, (await shop.Photos.AddAsync(photo, Full, Small)).Outcome);

        var kept = Assert.Single(await shop.Photos.OfOrderAsync(photo.OrderId));

        Assert.Equal((photo.Id, photo.OrderId, "leak-down", Place.Pair(3, 4), Stage.After), (kept.Id, kept.OrderId, kept.Test, kept.At, kept.Stage));
        Assert.Equal((1600, 1200, photo.TakenAt, "Rosa"), (kept.Width, kept.Height, kept.TakenAt, kept.By));
        Assert.Equal(("", false, null), (kept.Caption, kept.InReport, kept.RemovedAt));
        Assert.Empty(kept.Marks);
        Assert.Equal(Full, await BytesAsync(shop, photo.Id, PhotoSize.Full));
        Assert.Equal(Small, await BytesAsync(shop, photo.Id, PhotoSize.Small));
    }

    [Fact]
    public async Task A_clock_that_runs_ahead_puts_no_photo_into_the_future()
    {
        await using var shop = await TestShop.OpenAsync();
        var now = shop.Clock.GetUtcNow().UtcDateTime;
        var photo = Of(await shop.OpenOrderAsync()) with { TakenAt = now.AddDays(3) };
        await shop.Photos.AddAsync(photo, Full, Small);
        Assert.Equal(now, (await shop.Photos.GetAsync(photo.Id))!.TakenAt);
    }

    [Fact]
    public async Task The_same_photo_again_is_harmless_and_its_key_on_another_order_is_refused_without_touching_the_picture()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = Of(await shop.OpenOrderAsync());
        await shop.Photos.AddAsync(photo, Full, Small);

        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Photos.AddAsync(photo, new byte[] { 9 }, new byte[] { 9 })).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.AddAsync(photo with { OrderId = (await shop.OpenOrderAsync()).Id }, new byte[] { 9 }, new byte[] { 9 })).Outcome);

        Assert.Single(await shop.Photos.OfOrderAsync(photo.OrderId));
        Assert.Equal(Full, await BytesAsync(shop, photo.Id, PhotoSize.Full));
        Assert.Equal(Small, await BytesAsync(shop, photo.Id, PhotoSize.Small));
    }

    [Fact]
    public async Task Two_uploads_of_one_photo_at_the_same_time_make_one_photo()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = Of(await shop.OpenOrderAsync());
        var results = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() => shop.Photos.AddAsync(photo, Full, Small))));

        Assert.Single(results, r => r.Outcome == SaveOutcome.Saved);
        Assert.Equal(7, results.Count(r => r.Outcome == SaveOutcome.AlreadySaved));
        Assert.Equal(Full, await BytesAsync(shop, photo.Id, PhotoSize.Full));
        Assert.Equal(2, Files(shop).Length);
    }

    [Fact]
    public async Task A_photo_for_an_order_that_does_not_exist_or_a_cylinder_that_is_not_there_leaves_no_file()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "I4", Guid.NewGuid(), "Rosa");

        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.AddAsync(Of(order) with { OrderId = Guid.NewGuid() }, Full, Small)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.AddAsync(Of(order) with { At = Place.Cylinder(5) }, Full, Small)).Outcome);

        Assert.Empty(Files(shop));
    }

    [Fact]
    public async Task An_order_takes_no_more_photos_than_the_most()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var added = await Task.WhenAll(Enumerable.Range(0, PhotoStore.MostOnOrder).Select(_ => shop.Photos.AddAsync(Of(order), Full, Small)));
        Assert.All(added, r => Assert.Equal(SaveOutcome.Saved, r.Outcome));
        Assert.Contains("no more", (await shop.Photos.AddAsync(Of(order), Full, Small)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Caption_marks_and_the_switch_for_the_report_are_kept()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = await AddAsync(shop);
        await shop.Photos.SetCaptionAsync(photo, "  Cracked\ninsulator ", "", Guid.NewGuid(), "Rosa");
        await shop.Photos.SetMarksAsync(photo, "[[0.1,0.2,0.3,0.4]]", "[]", Guid.NewGuid(), "Rosa");
        await shop.Photos.SetInReportAsync(photo, true, Guid.NewGuid(), "Rosa");

        var kept = (await shop.Photos.GetAsync(photo))!;

        Assert.Equal(("Cracked insulator", true), (kept.Caption, kept.InReport));
        Assert.Equal([new PhotoPoint(0.1, 0.2), new PhotoPoint(0.3, 0.4)], Assert.Single(kept.Marks).Points);
    }

    [Fact]
    public async Task A_repeated_change_is_done_once()
    {
        await using var shop = await TestShop.OpenAsync();
        var (photo, first) = (await AddAsync(shop), Guid.NewGuid());
        await shop.Photos.SetInReportAsync(photo, true, first, "Rosa");
        await shop.Photos.SetInReportAsync(photo, false, Guid.NewGuid(), "Tom");

        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Photos.SetInReportAsync(photo, true, first, "Rosa")).Outcome);

        Assert.False((await shop.Photos.GetAsync(photo))!.InReport);
        Assert.Equal(2, shop.Scalar("SELECT count(*) FROM AppliedCommands WHERE What LIKE '%print photo'"));
    }

    [Fact]
    public async Task Two_who_draw_on_the_same_photo_hear_of_each_other()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = await AddAsync(shop);
        await shop.Photos.SetMarksAsync(photo, "[[0.1,0.2]]", "[]", Guid.NewGuid(), "Rosa");

        var conflict = await shop.Photos.SetMarksAsync(photo, "[[0.9,0.9]]", "[]", Guid.NewGuid(), "Tom");

        Assert.Equal((SaveOutcome.Conflict, "[[0.1,0.2]]"), (conflict.Outcome, conflict.Current));
        Assert.Equal(SaveOutcome.Saved, (await shop.Photos.SetMarksAsync(photo, "[[0.9,0.9]]", conflict.Current, Guid.NewGuid(), "Tom")).Outcome);
    }

    [Fact]
    public async Task What_cannot_be_a_caption_or_a_mark_is_refused_and_nothing_changes()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = await AddAsync(shop);
        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.SetCaptionAsync(photo, new string('x', PhotoStore.LongestCaption + 1), null, Guid.NewGuid(), "")).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.SetMarksAsync(photo, "[[2,2]]", null, Guid.NewGuid(), "")).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Photos.SetCaptionAsync(Guid.NewGuid(), "x", null, Guid.NewGuid(), "")).Outcome);
        var kept = (await shop.Photos.GetAsync(photo))!;
        Assert.Equal("", kept.Caption);
        Assert.Empty(kept.Marks);
    }

    [Fact]
    public async Task A_deleted_photo_can_be_got_back_for_a_month_and_then_its_pictures_go()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var (gone, back) = (await AddAsync(shop, order), await AddAsync(shop, order));
        await shop.Photos.SetRemovedAsync(gone, true, Guid.NewGuid(), "Rosa");
        await shop.Photos.SetRemovedAsync(back, true, Guid.NewGuid(), "Rosa");
        Assert.Empty(await shop.Photos.OfOrderAsync(order.Id));
        await shop.Photos.SetRemovedAsync(back, false, Guid.NewGuid(), "Rosa");
        shop.Clock.Advance(PhotoStore.KeptAfterRemoval - TimeSpan.FromHours(1));
        Assert.Equal(0, await shop.Photos.SweepAsync());
        shop.Clock.Advance(TimeSpan.FromHours(2));

        Assert.Equal(1, await shop.Photos.SweepAsync());

        Assert.Null(await shop.Photos.GetAsync(gone));
        Assert.Null(shop.Photos.OpenFile(gone, PhotoSize.Full));
        Assert.Null(shop.Photos.OpenFile(gone, PhotoSize.Small));
        Assert.Equal(back, Assert.Single(await shop.Photos.OfOrderAsync(order.Id)).Id);
        Assert.Equal(Full, await BytesAsync(shop, back, PhotoSize.Full));
    }

    [Fact]
    public async Task What_a_killed_program_left_half_written_is_swept_away()
    {
        await using var shop = await TestShop.OpenAsync();
        var photo = await AddAsync(shop);
        var half = Path.Combine(shop.Folder, "photos", "half.jpg.0.part");
        await File.WriteAllBytesAsync(half, Small);
        await shop.Photos.SweepAsync();
        Assert.False(File.Exists(half));
        Assert.Equal(Full, await BytesAsync(shop, photo, PhotoSize.Full));
    }

    [Fact]
    public async Task Pages_on_the_order_are_told_of_a_change()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var told = 0;
        var all = new TaskCompletionSource();
        using var listening = shop.Bus.Subscribe(order.Id, _ =>
        {
            if (Interlocked.Increment(ref told) == 2)
            {
                all.TrySetResult();
            }
        });
        var photo = await AddAsync(shop, order);
        await shop.Photos.SetCaptionAsync(photo, "Wet", null, Guid.NewGuid(), "Rosa");
        await all.Task.WaitAsync(TimeSpan.FromSeconds(30));
    }

    private static string[] Files(TestShop shop)
    {
        var folder = Path.Combine(shop.Folder, "photos");
        return Directory.Exists(folder) ? Directory.GetFiles(folder) : [];
    }

    private static async Task<byte[]> BytesAsync(TestShop shop, Guid id, PhotoSize size)
    {
        await using var file = shop.Photos.OpenFile(id, size)!;
        using var bytes = new MemoryStream();
        await file.CopyToAsync(bytes);
        return bytes.ToArray();
    }

    private static async Task<Guid> AddAsync(TestShop shop, RepairOrder? order = null)
    {
        var photo = Of(order ?? await shop.OpenOrderAsync());
        Assert.Equal(SaveOutcome.Saved, (await shop.Photos.AddAsync(photo, Full, Small)).Outcome);
        return photo.Id;
    }

    private static NewPhoto Of(RepairOrder order) => new()
    {
        Id = Guid.NewGuid(), OrderId = order.Id, Test = "plug-condition", At = Place.Cylinder(2), Width = 1600, Height = 1200, By = "Rosa",
    };
}
