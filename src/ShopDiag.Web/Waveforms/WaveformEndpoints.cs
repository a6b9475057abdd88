using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using ShopDiag.Storage.People;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Waveforms;

/// <summary>Files of samples over HTTP: a circuit would have to carry hundreds of megabytes in pieces of 32 kB.</summary>
public static class WaveformEndpoints
{
    private const int BeingSent = 2;

    /// <summary>Adds <c>PUT /waveforms/{id}</c>. Only a page of our own can send it: browsers ask before a PUT from elsewhere, and nobody answers them; and the key must be one that an open page made.</summary>
    public static void MapWaveforms(this IEndpointRouteBuilder app)
    {
        var gate = new SemaphoreSlim(BeingSent);
        app.MapPut("/waveforms/{id:guid}", async (Guid id, HttpRequest request, WaveformUploads uploads, CancellationToken cancel) =>
            {
                await gate.WaitAsync(cancel);
                try
                {
                    return await KeepAsync(id, request, uploads, cancel);
                }
                finally
                {
                    gate.Release();
                }
            })
            .Needs(Permission.WorkOnOrders).WithMetadata(new RequestSizeLimitAttribute(WaveformUploads.LargestBytes));
    }

    /// <summary>Where a file with a key is sent.</summary>
    public static string Address(Guid id) => string.Create(CultureInfo.InvariantCulture, $"/waveforms/{id}");

    private static async Task<Results<Ok, NotFound<string>, ContentHttpResult>> KeepAsync(Guid id, HttpRequest request, WaveformUploads uploads, CancellationToken cancel)
    {
        // Before a byte is read: a browser that announces too much need not send it.
        if (request.ContentLength > WaveformUploads.LargestBytes)
        {
            return TypedResults.Text("The file is too large: 400 MB are taken at most.", statusCode: StatusCodes.Status413PayloadTooLarge);
        }

        try
        {
            return await uploads.KeepAsync(id, request.Body, cancel) ? TypedResults.Ok() : TypedResults.NotFound("No open page waits for this file. Choose it again.");
        }
        catch (BadHttpRequestException e)
        {
            return TypedResults.Text("The file did not arrive whole, or it is too large. Choose it again.", statusCode: e.StatusCode);
        }
    }
}
