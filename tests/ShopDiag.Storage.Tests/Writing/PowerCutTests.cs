using System.Collections.Immutable;
using System.Text.Json;

namespace ShopDiag.Storage.Tests.Writing;

/// <summary>The power goes at any moment while readings are written: the database opens, holds together, and has every reading that somebody was told is saved.</summary>
public sealed class PowerCutTests
{
    private const int Readings = 800;

    // SHOPDIAG_POWER_CUTS=400 for the full number.
    private static readonly int Cuts = int.TryParse(Environment.GetEnvironmentVariable("SHOPDIAG_POWER_CUTS"), out var cuts) ? cuts : 100;
    private static readonly Guid Order = Guid.Parse("11111111-2222-4333-8444-666666666666");

    [Fact]
    public async Task After_a_power_cut_the_records_hold_together_and_every_acknowledged_reading_is_there()
    {
        await using var shop = TestShop.Closed();
        var operations = await RecordAsync(shop.Folder);
        var first = operations.ToList().FindIndex(o => o.Kind == 'A');
        Assert.True(operations.Count(o => o is { Kind: 'S', File: 'w' }) > 100, "the log was hardly ever flushed");
        Assert.True(operations.Count(o => o is { Kind: 'W', File: 'd' }) > 100, "the log was never carried over into the database");
        var chance = new Random(20260303);
        var losses = new List<string>();
        for (var i = 0; i < Cuts; i++)
        {
            var cut = chance.Next(first + 1, operations.Length);
            var (files, acknowledged) = PowerCut.At(operations, cut, chance);
            if (Fault(shop.Folder, files, acknowledged) is { } fault)
            {
                losses.Add($"cut before operation {cut}: {fault}");
            }
        }

        Assert.Empty(losses);
    }

    [Fact]
    public async Task The_simulator_finds_what_is_lost_where_nothing_is_flushed()
    {
        await using var shop = TestShop.Closed();
        // The same writes by a program that never waited for the disk.
        var operations = (await RecordAsync(shop.Folder)).RemoveAll(o => o.Kind == 'S');
        var chance = new Random(7);
        var faults = Enumerable.Range(0, 20).Count(_ =>
        {
            var (files, acknowledged) = PowerCut.At(operations, chance.Next(operations.Length / 2, operations.Length), chance);
            return Fault(shop.Folder, files, acknowledged) is not null;
        });
        Assert.InRange(faults, 15, 20);
    }

    private static async Task<ImmutableArray<DiskOperation>> RecordAsync(string folder)
    {
        var log = Path.Combine(Path.GetTempPath(), $"shopdiag-{Guid.NewGuid():N}.writes");
        using var writer = WriterProcess.Start(folder, Order, 1, log, Readings.ToString(System.Globalization.CultureInfo.InvariantCulture));
        var (code, error) = await writer.EndAsync();
        Assert.Equal((0, ""), (code, error));
        var operations = DiskOperation.Read(log);
        File.Delete(log);
        return operations;
    }

    /// <summary>What is wrong with the disk as it is found; null when nothing is.</summary>
    private static string? Fault(string folder, Dictionary<char, byte[]> files, HashSet<int> acknowledged)
    {
        var found = Path.Combine(folder, "found.db");
        foreach (var (kind, ending) in new[] { ('d', ""), ('w', "-wal"), ('j', "-journal"), ('s', "-shm") })
        {
            File.Delete(found + ending);
            if (files.TryGetValue(kind, out var bytes) && (kind == 'd' || bytes.Length > 0))
            {
                File.WriteAllBytes(found + ending, bytes);
            }
        }

        try
        {
            using var database = Opening.Databases.Open(found);
            // The look itself need not survive anything.
            database.CommandText = "PRAGMA synchronous=OFF";
            database.ExecuteNonQuery();
            database.CommandText = "SELECT integrity_check FROM pragma_integrity_check";
            if ((string)database.ExecuteScalar()! is not "ok" and var integrity)
            {
                return integrity;
            }

            database.CommandText = "SELECT json_group_array(CAST(json_extract(ValueJson, '$.kPa') AS INTEGER)) FROM Readings";
            var kept = JsonSerializer.Deserialize<int[]>((string)database.ExecuteScalar()!)!;
            var lost = acknowledged.Except(kept).Count();
            return lost > 0 ? $"{lost} acknowledged readings are lost" : kept.Length != kept.Distinct().Count() ? "a reading is there twice" : null;
        }
        catch (Microsoft.Data.Sqlite.SqliteException e)
        {
            return e.Message;
        }
    }
}
