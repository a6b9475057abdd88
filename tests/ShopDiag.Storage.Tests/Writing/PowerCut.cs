using System.Collections.Immutable;

namespace ShopDiag.Storage.Tests.Writing;

/// <summary>What SQLite asked of the system, in its order (WriteRecorder writes it down).</summary>
/// <param name="Kind">W write, S flush, T cut, U deletion, A acknowledged.</param>
/// <param name="File">d database, w log, j journal.</param>
/// <param name="At">Offset, size or number.</param>
/// <param name="Bytes">What was written.</param>
internal sealed record DiskOperation(char Kind, char File, long At, byte[] Bytes)
{
    public static ImmutableArray<DiskOperation> Read(string file)
    {
        using var log = new BinaryReader(System.IO.File.OpenRead(file));
        var operations = ImmutableArray.CreateBuilder<DiskOperation>();
        while (log.BaseStream.Position < log.BaseStream.Length)
        {
            var (kind, of, at) = ((char)log.ReadByte(), (char)log.ReadByte(), log.ReadInt64());
            operations.Add(new(kind, of, at, log.ReadBytes(log.ReadInt32())));
        }

        return operations.ToImmutable();
    }
}

/// <summary>
/// A disk after the power went: what was flushed is there; of what was written since, each write is there, is not, or is there in part, a sector of 512 bytes at a time, whatever came before it. A later flush of any
/// file also carries deletions and cuts, as the journal of ext4 does.
/// </summary>
internal static class PowerCut
{
    private const int Sector = 512;

    /// <summary>The files as they are found, and the numbers that had been acknowledged, when the power goes before an operation.</summary>
    public static (Dictionary<char, byte[]> Files, HashSet<int> Acknowledged) At(ImmutableArray<DiskOperation> operations, int cut, Random chance)
    {
        var flushed = new Dictionary<char, int>();
        for (var i = 0; i < cut; i++)
        {
            if (operations[i].Kind == 'S')
            {
                flushed[operations[i].File] = i;
            }
        }

        var lastFlush = flushed.Values.DefaultIfEmpty(-1).Max();
        var disk = new Dictionary<char, MemoryStream>();
        var acknowledged = new HashSet<int>();
        for (var i = 0; i < cut; i++)
        {
            var operation = operations[i];
            if (operation.Kind == 'A')
            {
                acknowledged.Add((int)operation.At);
                continue;
            }

            if (operation.Kind != 'S')
            {
                var file = disk.TryGetValue(operation.File, out var known) ? known : disk[operation.File] = new();
                var last = operation.Kind == 'W' ? flushed.GetValueOrDefault(operation.File, -1) : lastFlush;
                Apply(file, operation, i <= last, chance);
            }
        }

        return (disk.ToDictionary(f => f.Key, f => f.Value.ToArray()), acknowledged);
    }

    private static void Apply(MemoryStream file, DiskOperation operation, bool durable, Random chance)
    {
        switch (operation.Kind)
        {
            case 'W' when durable:
                Write(file, operation, 0, operation.Bytes.Length);
                break;
            case 'W':
                Torn(file, operation, chance);
                break;
            case 'T' or 'U' when durable || chance.Next(2) == 0:
                file.SetLength(operation.Kind == 'U' ? 0 : operation.At);
                break;
        }
    }

    private static void Torn(MemoryStream file, DiskOperation operation, Random chance)
    {
        var fate = chance.NextDouble();
        if (fate >= 0.7)
        {
            for (var at = 0; at < operation.Bytes.Length; at += Sector)
            {
                if (chance.Next(2) == 0)
                {
                    Write(file, operation, at, Math.Min(Sector, operation.Bytes.Length - at));
                }
            }
        }
        else if (fate >= 0.4)
        {
            Write(file, operation, 0, operation.Bytes.Length);
        }
    }

    private static void Write(MemoryStream file, DiskOperation operation, int from, int count)
    {
        file.Position = operation.At + from;
        file.Write(operation.Bytes, from, count);
    }
}
