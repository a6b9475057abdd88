using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using ShopDiag.Diagnosis;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Prices;

/// <summary>What a file of prices came to.</summary>
/// <param name="Added">Entries that are new.</param>
/// <param name="Changed">Entries that took the place of others.</param>
/// <param name="Refused">The rows that did not go in, each with its line and why.</param>
/// <param name="Error">Why nothing could be read at all; empty when it could.</param>
public sealed record PriceAnswer(int Added, int Changed, ImmutableArray<InputError> Refused, string Error = "")
{
    /// <summary>An answer that says only why nothing was read.</summary>
    public static PriceAnswer Wrong(string error) => new(0, 0, [], error);
}

/// <summary>The price list as a file, out and in.</summary>
public static class PriceEndpoints
{
    /// <summary>Largest file: some 100,000 rows.</summary>
    public const long LargestBytes = 10 * 1024 * 1024;

    /// <summary>Adds <c>GET</c> and <c>POST /shop/prices.csv</c>, a template, and the token that a POST carries in its header <c>RequestVerificationToken</c>.</summary>
    public static void MapPrices(this IEndpointRouteBuilder app)
    {
        // One at a time: a file takes the memory of several times its size while it is read.
        var gate = new SemaphoreSlim(1);
        app.MapGet("/antiforgery-token", (IAntiforgery antiforgery, HttpContext http) => TypedResults.Text(antiforgery.GetAndStoreTokens(http).RequestToken!)).Needs(Permission.WorkOnOrders);
        app.MapGet("/shop/prices-template.csv", async (ShopStore shops, CancellationToken cancel) => File(PriceWords.Examples, await CurrencyAsync(shops, cancel), "prices-template.csv")).Needs(Permission.EditPrices);
        app.MapGet("/shop/prices.csv", async (PriceStore prices, ShopStore shops, CancellationToken cancel) =>
            File(await prices.GetAsync(cancel), await CurrencyAsync(shops, cancel), "prices.csv")).Needs(Permission.EditPrices);
        app.MapPost("/shop/prices.csv", async (HttpContext http, IAntiforgery antiforgery, PriceStore prices, ShopStore shops, CancellationToken cancel) =>
            {
                if (!await antiforgery.IsRequestValidAsync(http))
                {
                    return Answer(StatusCodes.Status400BadRequest, PriceAnswer.Wrong("This page was open too long, or the file did not come from it. Reload the page and try again."));
                }

                await gate.WaitAsync(cancel);
                try
                {
                    return await ImportAsync(http.Request.Body, prices, shops, cancel);
                }
                finally
                {
                    gate.Release();
                }
            })
            .Needs(Permission.EditPrices).WithMetadata(new RequestSizeLimitAttribute(LargestBytes));
    }

    private static async Task<JsonHttpResult<PriceAnswer>> ImportAsync(Stream body, PriceStore prices, ShopStore shops, CancellationToken cancel)
    {
        string text;
        try
        {
            text = await TextAsync(body, cancel);
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return Answer(StatusCodes.Status413PayloadTooLarge, PriceAnswer.Wrong("The file is larger than 10 MB. Divide it, or take out what the list does not need."));
        }

        var import = PriceCsv.Read(new StringReader(text), await CurrencyAsync(shops, cancel));
        var added = import.Entries.IsEmpty ? 0 : await prices.PutAsync(import.Entries, cancel);
        return Answer(StatusCodes.Status200OK, new(added, import.Entries.Length - added, import.Refused));
    }

    private static JsonHttpResult<PriceAnswer> Answer(int status, PriceAnswer answer) => TypedResults.Json(answer, statusCode: status);

    // Spreadsheets save as UTF-8 or UTF-16 with a mark at the start, as UTF-8 without, or in the old code page of western Windows.
    private static async Task<string> TextAsync(Stream body, CancellationToken cancel)
    {
        using var bytes = new MemoryStream();
        await body.CopyToAsync(bytes, cancel);
        try
        {
            bytes.Position = 0;
            using var reader = new StreamReader(bytes, new UTF8Encoding(false, throwOnInvalidBytes: true), detectEncodingFromByteOrderMarks: true, leaveOpen: true);
            return await reader.ReadToEndAsync(cancel);
        }
        catch (DecoderFallbackException)
        {
            return CodePagesEncodingProvider.Instance.GetEncoding(1252)!.GetString(bytes.ToArray());
        }
    }

    // With a mark at the start: without it spreadsheets take the letters beyond ASCII for others.
    private static FileContentHttpResult File(PriceList list, string currency, string name)
    {
        using var bytes = new MemoryStream();
        using (var text = new StreamWriter(bytes, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), leaveOpen: true))
        {
            PriceCsv.Write(text, list, currency);
        }

        return TypedResults.File(bytes.ToArray(), "text/csv; charset=utf-8", name);
    }

    private static async Task<string> CurrencyAsync(ShopStore shops, CancellationToken cancel) => (await shops.GetAsync(cancel) ?? new ShopSettings()).Currency;
}
