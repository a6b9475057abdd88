namespace ShopDiag.Storage.Backups;

/// <summary>Copies a stream that must not be longer than it says: a small archive can unpack to more than any disk holds.</summary>
internal static class BoundedCopy
{
    private const int Block = 128 * 1024;

    /// <summary>Copies; throws <see cref="BackupException"/> once there is more than the bound.</summary>
    public static async Task RunAsync(Stream from, Stream to, long most, CancellationToken cancel)
    {
        var block = new byte[Block];
        long copied = 0;
        int read;
        while ((read = await from.ReadAsync(block, cancel).ConfigureAwait(false)) > 0)
        {
            copied += read;
            if (copied > most)
            {
                throw new BackupException("The file is damaged: something in it is larger than it says.");
            }

            await to.WriteAsync(block.AsMemory(0, read), cancel).ConfigureAwait(false);
        }
    }
}
