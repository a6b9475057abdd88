using System.Net.Mime;

namespace ShopDiag.Web.Api;

/// <summary>What a program sends.</summary>
internal static class SentFile
{
    private const int Buffer = 64 * 1024;

    /// <summary>What is wrong with how it is sent, before a byte is read; null when nothing is.</summary>
    public static ApiProblem? Fault(HttpContext http, ApiOperation operation)
    {
        var request = http.Request;
        if (request.Headers.ContentEncoding.ToString() is { Length: > 0 } packed && packed != "identity")
        {
            return new(StatusCodes.Status415UnsupportedMediaType, "This cannot be unpacked here. Send it as it is, without Content-Encoding.", "Content-Encoding");
        }

        if (Type(request.ContentType) is not { } type || !operation.Takes.Contains(type.MediaType, StringComparer.OrdinalIgnoreCase))
        {
            return new(StatusCodes.Status415UnsupportedMediaType, $"Say in the header Content-Type what is sent. Taken here: {string.Join(", ", operation.Takes)}.", "Content-Type");
        }

        if (type.CharSet is { Length: > 0 } letters && !letters.Trim('"').Equals("utf-8", StringComparison.OrdinalIgnoreCase) && !letters.Trim('"').Equals("us-ascii", StringComparison.OrdinalIgnoreCase))
        {
            return new(StatusCodes.Status415UnsupportedMediaType, "Text is read as UTF-8 here. Send it in that.", "Content-Type");
        }

        return request.ContentLength > operation.LargestBody ? new(StatusCodes.Status413PayloadTooLarge, ApiProblems.TooLarge(http)) : null;
    }

    /// <summary>
    /// All of it in a file of its own that is gone when closed: the readers go back and forth in what they read, and hundreds of megabytes must not stand in memory while they come in slowly.
    /// </summary>
    public static async Task<FileStream> KeepAsync(HttpRequest request, string folder, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        var how = new FileStreamOptions
        {
            Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Share = FileShare.None, BufferSize = Buffer, Options = FileOptions.DeleteOnClose | FileOptions.Asynchronous,
        };
        if (!OperatingSystem.IsWindows())
        {
            how.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        // Named as what WaveformUploads sweeps, should the program be killed meanwhile.
        var file = new FileStream(Path.Combine(folder, $"{Guid.NewGuid():N}.csv"), how);
        try
        {
            await request.Body.CopyToAsync(file, cancel);
            file.Position = 0;
            return file;
        }
        catch (Exception)
        {
            await file.DisposeAsync();
            throw;
        }
    }

    private static ContentType? Type(string? header)
    {
        try
        {
            return string.IsNullOrWhiteSpace(header) ? null : new(header);
        }
        catch (FormatException)
        {
            return null;
        }
    }
}
