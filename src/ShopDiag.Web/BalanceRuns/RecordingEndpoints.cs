using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.People;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>Recordings over HTTP: kept from the tablet, played by the browser. A circuit would have to carry them in pieces of 32 kB.</summary>
public static class RecordingEndpoints
{
    private const int BeingKept = 2;

    /// <summary>Adds <c>GET</c> and <c>PUT /orders/{number}/recordings/{id}</c>. Only a page of our own can send a PUT: browsers ask first, and nobody answers them.</summary>
    public static void MapRecordings(this IEndpointRouteBuilder app)
    {
        // Two at a time: a shop has few tablets, and each upload may be tens of megabytes.
        var gate = new SemaphoreSlim(BeingKept);
        app.MapGet("/orders/{number:int}/recordings/{id:guid}", PlayAsync).Needs(Permission.WorkOnOrders);
        app.MapPut("/orders/{number:int}/recordings/{id:guid}", async (
                int number, Guid id, string kind, string? order, double? rough, string? stage, HttpRequest request, OrderStore orders, RecordingStore store, CancellationToken cancel) =>
            {
                await gate.WaitAsync(cancel);
                try
                {
                    return await KeepAsync(number, id, kind, new RecordingPlan { Order = Numbers(order), RoughRpm = rough }, StageOf(stage), request.Body, orders, store, cancel);
                }
                finally
                {
                    gate.Release();
                }
            })
            .Needs(Permission.WorkOnOrders).WithMetadata(new RequestSizeLimitAttribute(RecordingStore.LargestBytes));
    }

    /// <summary>The address of a recording.</summary>
    public static string Address(int order, Guid id) => string.Create(CultureInfo.InvariantCulture, $"/orders/{order}/recordings/{id}");

    private static async Task<Results<FileStreamHttpResult, NotFound>> PlayAsync(int number, Guid id, OrderStore orders, RecordingStore store, HttpResponse response, CancellationToken cancel)
    {
        if (await store.GetAsync(id, cancel) is not { RemovedAt: null } recording
            || await orders.GetByNumberAsync(number, cancel) is not { } order || order.Id != recording.OrderId
            || store.OpenFile(id, recording.Kind) is not { } file)
        {
            return TypedResults.NotFound();
        }

        response.Headers.CacheControl = "private, no-cache";
        return recording.Kind == RecordingKind.Sound
            ? TypedResults.File(file, "audio/wav", enableRangeProcessing: true)
            : TypedResults.File(file, "text/csv", $"balance-run-{number}.csv", enableRangeProcessing: true);
    }

    private static async Task<Results<Ok<string>, NotFound<string>, Conflict<string>, BadRequest<string>>> KeepAsync(
        int number, Guid id, string kindText, RecordingPlan plan, Stage stage, Stream body, OrderStore orders, RecordingStore store, CancellationToken cancel)
    {
        if (await orders.GetByNumberAsync(number, cancel) is not { } order)
        {
            return TypedResults.NotFound("There is no such order.");
        }

        if (order.Vehicle.Engine is not { } spec || Engine.Create(spec) is not { IsValid: true } engine)
        {
            return TypedResults.BadRequest("Choose the engine first: without the number of cylinders the speed cannot be followed.");
        }

        if (KindOf(kindText) is not { } kind)
        {
            return TypedResults.BadRequest("A recording is sound (wav) or a speed log (csv).");
        }

        if (await store.GetAsync(id, cancel) is { } known)
        {
            return known.OrderId == order.Id ? TypedResults.Ok("It was kept before.") : TypedResults.Conflict("This recording is on another order.");
        }

        await store.KeepFileAsync(id, kind, body, cancel);
        var length = Check(id, kind, engine.Value, store);
        if (length.Error is { } error)
        {
            store.DropFile(id, kind);
            return TypedResults.BadRequest(error.Message);
        }

        var kept = await store.AddAsync(
            new()
            {
                Id = id, OrderId = order.Id, Kind = kind, Stage = stage, Cylinders = engine.Value.CylinderCount, Plan = plan, Seconds = length.Value,
                Finished = true,
            },
            cancel);
        return kept.Outcome == SaveOutcome.Refused ? TypedResults.Conflict(kept.Message) : TypedResults.Ok("Kept.");
    }

    /// <summary>The length in seconds, or what is wrong with it. A log whose columns are unclear is kept: the page asks.</summary>
    private static Parsed<double> Check(Guid id, RecordingKind kind, Engine engine, RecordingStore store)
    {
        using var file = store.OpenFile(id, kind)!;
        if (kind == RecordingKind.SpeedLog)
        {
            var log = SpeedLog.Read(file, new());
            return log.IsValid ? log.Value.Points[^1].Seconds - log.Value.Points[0].Seconds : log.Error!.At is "time" or "speed" ? 0 : log.Error!;
        }

        if (EngineToHear.Create(engine.CylinderCount).Error is { } unheard)
        {
            return unheard;
        }

        var opened = WavReader.Open(file);
        if (opened.Error is { } error)
        {
            return error;
        }

        var format = opened.Value.Format;
        var bytes = Math.Min(opened.Value.DeclaredBytes ?? long.MaxValue, file.Length - file.Position);
        var seconds = (double)bytes / (format.FrameBytes * format.SampleRate);
        return seconds switch
        {
            > RecordingStore.LongestSeconds => new InputError("", $"The recording is longer than {RecordingStore.LongestSeconds / 60} minutes. Cut out the balance run."),
            < SoundSpeed.ShortestSeconds => new InputError("", "The recording is too short to hold a cancellation."),
            _ => seconds,
        };
    }

    private static RecordingKind? KindOf(string kind) => kind switch
    {
        "wav" => RecordingKind.Sound,
        "csv" => RecordingKind.SpeedLog,
        _ => null,
    };

    private static Stage StageOf(string? stage) => stage == "after" ? Stage.After : Stage.Before;

    private static ImmutableArray<int> Numbers(string? order) =>
        [.. (order ?? "").Split(',').Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).Where(n => n is > 0 and <= Engine.MaxCylinders).Take(100)];
}
