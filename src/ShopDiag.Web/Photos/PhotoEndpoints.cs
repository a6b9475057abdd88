using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Photos;

/// <summary>
/// Photos over HTTP, one a request, each under a key made by the tablet: what is lost on the way is sent again under the same key (<c>wwwroot/js/photos.js</c>), and what arrived is not sent again
/// because another did not.
/// </summary>
public static class PhotoEndpoints
{
    private const int DecodedAtOnce = 2;
    private const int KeptInMemory = 64 * 1024;
    private const int LongestName = 80;

    // A photo that says it waited longer on its tablet comes from a wrong clock.
    private static readonly TimeSpan LongestWait = TimeSpan.FromDays(30);

    /// <summary>
    /// Adds <c>PUT</c> and <c>GET /orders/{number}/photos/{id}</c> and <c>GET /orders/{number}/photos/{id}/small</c>. Only a page of our own can send a PUT: browsers ask first, and nobody answers them.
    /// </summary>
    public static void MapPhotos(this IEndpointRouteBuilder app)
    {
        var gate = new SemaphoreSlim(DecodedAtOnce);
        app.MapPut("/orders/{number:int}/photos/{id:guid}", ([AsParameters] Upload upload, HttpRequest request, [AsParameters] Services with, CancellationToken cancel) =>
            KeepAsync(upload, request, with, gate, cancel)).Needs(Permission.WorkOnOrders).WithMetadata(new RequestSizeLimitAttribute(PhotoPicture.LargestBytes));
        app.MapGet("/orders/{number:int}/photos/{id:guid}", (int number, Guid id, OrderStore orders, PhotoStore photos, HttpResponse response, CancellationToken cancel) =>
            ShowAsync(number, id, PhotoSize.Full, orders, photos, response, cancel)).Needs(Permission.WorkOnOrders);
        app.MapGet("/orders/{number:int}/photos/{id:guid}/small", (int number, Guid id, OrderStore orders, PhotoStore photos, HttpResponse response, CancellationToken cancel) =>
            ShowAsync(number, id, PhotoSize.Small, orders, photos, response, cancel)).Needs(Permission.WorkOnOrders);
    }

    /// <summary>The address of all photos of an order, to which a key is added.</summary>
    public static string Address(int order) => string.Create(CultureInfo.InvariantCulture, $"/orders/{order}/photos");

    /// <summary>The address of a photo.</summary>
    public static string Address(int order, Guid id, PhotoSize size) => $"{Address(order)}/{id}{(size == PhotoSize.Small ? "/small" : "")}";

    private static async Task<IResult> KeepAsync(Upload upload, HttpRequest request, Services with, SemaphoreSlim gate, CancellationToken cancel)
    {
        if (await with.Orders.GetByNumberAsync(upload.Number, cancel) is not { } order)
        {
            return TypedResults.NotFound("There is no such order.");
        }

        if (PlaceWords.Read(upload.At ?? "") is not { } at || with.Knowledge.Test(upload.Test ?? "") is not { } test || !test.Takes(at.Kind))
        {
            return TypedResults.BadRequest("There is no such test at this place.");
        }

        if (await with.Photos.GetAsync(upload.Id, cancel) is { } known)
        {
            return known.OrderId == order.Id ? TypedResults.Ok("It was kept before.") : TypedResults.Conflict("This photo is on another order.");
        }

        // All of it is here before it takes one of the places at the gate: a slow tablet must not keep others waiting.
        request.EnableBuffering(KeptInMemory);
        if (await TooLargeAsync(request.Body, cancel))
        {
            return TypedResults.Json($"{upload.File}It is larger than {PhotoPicture.LargestBytes / 1_000_000} MB. Choose a smaller size on the camera.", statusCode: StatusCodes.Status413PayloadTooLarge);
        }

        var picture = await DrawAsync(request.Body, gate, cancel);
        if (picture.Error is { } error)
        {
            return TypedResults.BadRequest(upload.File + error.Message);
        }

        var kept = await with.Photos.AddAsync(
            new()
            {
                Id = upload.Id, OrderId = order.Id, Test = test.Id, At = at, Stage = upload.Stage == "after" ? Stage.After : Stage.Before,
                Width = picture.Value.Width, Height = picture.Value.Height, TakenAt = Taken(upload.Taken, with.Time), By = "",
            },
            picture.Value.Full,
            picture.Value.Small,
            cancel);
        return kept.Outcome == SaveOutcome.Refused ? TypedResults.Conflict(upload.File + kept.Message) : TypedResults.Ok("Kept.");
    }

    private static async Task<bool> TooLargeAsync(Stream body, CancellationToken cancel)
    {
        try
        {
            await body.CopyToAsync(Stream.Null, cancel);
            body.Position = 0;
            return false;
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return true;
        }
    }

    private static async Task<Parsed<PhotoPicture>> DrawAsync(Stream body, SemaphoreSlim gate, CancellationToken cancel)
    {
        await gate.WaitAsync(cancel);
        try
        {
            using var bytes = new MemoryStream((int)body.Length);
            await body.CopyToAsync(bytes, cancel);
            return await Task.Run(() => PhotoPicture.Read(bytes.GetBuffer().AsSpan(0, (int)bytes.Length)), cancel);
        }
        finally
        {
            gate.Release();
        }
    }

    private static async Task<Results<FileStreamHttpResult, NotFound>> ShowAsync(
        int number, Guid id, PhotoSize size, OrderStore orders, PhotoStore photos, HttpResponse response, CancellationToken cancel)
    {
        if (await photos.GetAsync(id, cancel) is not { RemovedAt: null } photo
            || await orders.GetByNumberAsync(number, cancel) is not { } order || order.Id != photo.OrderId
            || photos.OpenFile(id, size) is not { } file)
        {
            return TypedResults.NotFound();
        }

        // Under one key there is one picture for ever, so the key says whether the browser's copy is good. It asks each time, for the photo may have been deleted and the person may have changed.
        response.Headers.CacheControl = "private, no-cache";
        response.Headers.ContentDisposition = string.Create(CultureInfo.InvariantCulture, $"inline; filename=\"order-{number}-{id:N}.jpg\"");
        return TypedResults.File(file, "image/jpeg", entityTag: new EntityTagHeaderValue($"\"{id:N}\""));
    }

    private static DateTime? Taken(long? milliseconds, TimeProvider time)
    {
        var now = time.GetUtcNow();
        return milliseconds is { } ms && ms > (now - LongestWait).ToUnixTimeMilliseconds() && ms <= now.ToUnixTimeMilliseconds()
            ? DateTimeOffset.FromUnixTimeMilliseconds(ms).UtcDateTime
            : null;
    }

    private static string Cut(string? text, int longest) => text is null ? "" : text.Length > longest ? text[..longest] : text;

    /// <summary>What is said about a photo in its address.</summary>
    /// <param name="Number">The order's number.</param>
    /// <param name="Id">The photo's key.</param>
    /// <param name="Test">The test's id.</param>
    /// <param name="At">The place (<see cref="PlaceWords.Key"/>).</param>
    /// <param name="Stage"><c>after</c> for after the repair.</param>
    /// <param name="Name">The file's name on the tablet: to say which one is refused, and for nothing else.</param>
    /// <param name="Taken">When it was taken, milliseconds since 1970.</param>
    private sealed record Upload(int Number, Guid Id, string? Test, string? At, string? Stage, string? Name, long? Taken)
    {
        public string File => string.IsNullOrWhiteSpace(Name) ? "" : $"{Cut(Name, LongestName)}: ";
    }

    /// <summary>What an upload needs.</summary>
    private sealed record Services(OrderStore Orders, PhotoStore Photos, Knowledge Knowledge, TimeProvider Time);
}
