using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
using Microsoft.AspNetCore.Mvc;
using ShopDiag.Diagnosis;
using ShopDiag.Obd.Logs;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.People;
using ShopDiag.Web.Verbs;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web.Api;

/// <summary>Verbs that work out what is sent, over HTTP: diagnose, listen, crank, decode. Nothing of the shop is read and nothing is kept.</summary>
internal static class WorkEndpoints
{
    /// <summary>Largest set of workups in one request, bytes: several thousand of them.</summary>
    public const long LargestWorkups = 10_000_000;

    private const string Wave = "audio/wav";
    private const string Csv = "text/csv";
    private const string Plain = "text/plain";
    private const string Bytes = "application/octet-stream";
    private static readonly ImmutableArray<string> Json = [ApiEndpoints.Lines, "application/jsonl", ApiEndpoints.Document];
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Adds them.</summary>
    public static void MapWork(this IEndpointRouteBuilder api)
    {
        api.Map(HttpMethods.Post, "/diagnose", Diagnose, (http, cancel) => DiagnoseAsync(http, cancel));
        api.MapFile(new ListenVerb(), RecordingStore.LargestBytes, [Wave, "audio/x-wav", "audio/vnd.wave", Csv, Plain, Bytes], "BalanceRun", ApiEndpoints.Document, "Follow the engine speed in a recording",
            "Sound of an engine (WAV) or a speed log (CSV), told apart by what is in it. Answers with the speed over time and the cylinders that were cancelled. As the verb listen.");
        api.MapFile(new CrankVerb(), WaveformUploads.LargestBytes, [Csv, Plain, Bytes], "WaveformLine", ApiEndpoints.Lines, "Read an oscilloscope's recording",
            "Cranking current, a crank sensor, times of teeth, an injector's or a coil's current, as text (CSV). Answers with a line a cylinder where the cylinders can be compared, and a summary in the last line. As the verb crank.");
        api.Map(HttpMethods.Post, "/decode", Decode, DecodeAsync);
    }

    private static ApiOperation Diagnose => Work("diagnose", "Assess workups",
        "A workup a line, an assessment a line, in the same order. A line that cannot be read is answered by a line with an error, and the others go on, so the status is 200 all the same. As the verb diagnose.")
        with { Takes = Json, TakesLine = "Workup", LargestBody = LargestWorkups, Gives = ApiEndpoints.Lines, GivesLine = "AssessmentLine" };

    // A character takes at most four bytes.
    private static ApiOperation Decode => Work("decode", "Decode captured OBD messages",
        "Text of candump, or lines of hexadecimal bytes. Answers with a line a message, a line for each problem, and in the last line what they come to. As the verb decode.")
        with { Takes = [Plain, Bytes], LargestBody = ObdLog.MostCharacters, Gives = ApiEndpoints.Lines, GivesLine = "ObdLine", MayBeUnreadable = true };

    private static ApiOperation Work(string id, string summary, string description) =>
        new() { Id = id, Summary = summary, Description = description, Grant = ProgramWords.Of(Storage.Programs.TokenGrant.WorkOut), Gives = ApiEndpoints.Lines };

    private static void Map(this IEndpointRouteBuilder api, string method, string path, ApiOperation operation, Func<HttpContext, CancellationToken, Task<IResult>> answer) =>
        api.MapMethods(path, [method], async (HttpContext http, CancellationToken cancel) => SentFile.Fault(http, operation) ?? await answer(http, cancel))
            .WithTags("What is sent").Needs(Permission.WorkOut).RequireRateLimiting(ApiEndpoints.WorkLimit).WithMetadata(operation, new RequestSizeLimitAttribute(operation.LargestBody));

    private static void MapFile(
        this IEndpointRouteBuilder api, FileVerb verb, long largest, ImmutableArray<string> takes, string line, string gives, string summary, string description)
    {
        var file = new Argument<string>("FILE");
        var command = verb.Build(file);
        var operation = Work(verb.Name, summary, description) with { Query = [.. command.Options], Takes = takes, LargestBody = largest, Gives = gives, GivesLine = line, MayBeUnreadable = true };
        api.Map(HttpMethods.Post, "/" + verb.Name, operation, async (http, cancel) =>
        {
            var asked = VerbQuery.Read(command, ["sent"], http.Request.Query);
            if (asked.Error is { } wrong)
            {
                return ApiProblem.Of(StatusCodes.Status400BadRequest, wrong);
            }

            var uploads = http.RequestServices.GetRequiredService<WaveformUploads>();
            await using var sent = await SentFile.KeepAsync(http.Request, uploads.Folder, cancel);
            await uploads.Reading.WaitAsync(cancel);
            try
            {
                var lines = verb.Lines(asked.Value, sent, cancel);
                return lines.Error is { } error ? ApiProblem.Of(StatusCodes.Status422UnprocessableEntity, error) : new LinesResult(gives, lines.Value);
            }
            finally
            {
                uploads.Reading.Release();
            }
        });
    }

    private static async Task<IResult> DiagnoseAsync(HttpContext http, CancellationToken cancel)
    {
        using var input = new StreamReader(http.Request.Body, Utf8);
        http.Response.ContentType = ApiEndpoints.Lines;
        // Closed only when all went well: closing begins the answer, and what is too large must still be answered as such.
        var output = new StreamWriter(http.Response.Body, Utf8, leaveOpen: true);
        await DiagnoseVerb.RunAsync(input, output, TextWriter.Null, http.RequestServices.GetRequiredService<Knowledge>(), cancel);
        await output.DisposeAsync();
        return Results.Empty;
    }

    private static async Task<IResult> DecodeAsync(HttpContext http, CancellationToken cancel)
    {
        await using var sent = await SentFile.KeepAsync(http.Request, http.RequestServices.GetRequiredService<WaveformUploads>().Folder, cancel);
        using var reader = new StreamReader(sent, Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
        var log = ObdLog.Read(reader);
        return log.Error is { } error ? ApiProblem.Of(StatusCodes.Status422UnprocessableEntity, error) : new LinesResult(ApiEndpoints.Lines, DecodeVerb.Lines(log.Value));
    }
}
