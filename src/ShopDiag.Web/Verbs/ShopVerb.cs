using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopDiag.Storage;

namespace ShopDiag.Web.Verbs;

/// <summary>What the verbs that work on a shop's folder have in common.</summary>
internal static class ShopVerb
{
    /// <summary>Exit code for bad input, said in words on standard error.</summary>
    public const int BadInput = 1;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        // Read by programs and people at a terminal, never put into a page.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
    };

    /// <summary>The stores on a folder; nothing is opened yet.</summary>
    public static ServiceProvider Services(string folder) => new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System).AddShopStorage(folder).BuildServiceProvider();

    /// <summary>Writes one document on a line of standard output.</summary>
    public static Task AnswerAsync<T>(T answer) => Console.Out.WriteLineAsync(JsonSerializer.Serialize(answer, Options));

    /// <summary>Says what is wrong.</summary>
    public static async Task<int> WrongAsync(string message)
    {
        await Console.Error.WriteLineAsync(message);
        return BadInput;
    }

    /// <summary>Writes a file: whole or not at all. One that is there is replaced once the new one is whole.</summary>
    public static async Task WriteFileAsync(string file, Func<Stream, Task> write)
    {
        var part = $"{Path.GetFullPath(file)}.{Guid.NewGuid():N}.part";
        try
        {
            await using (var stream = File.Create(part))
            {
                if (!OperatingSystem.IsWindows())
                {
                    File.SetUnixFileMode(stream.SafeFileHandle, UnixFileMode.UserRead | UnixFileMode.UserWrite);
                }

                await write(stream);
                stream.Flush(flushToDisk: true);
            }

            File.Move(part, file, overwrite: true);
        }
        finally
        {
            File.Delete(part);
        }
    }
}
