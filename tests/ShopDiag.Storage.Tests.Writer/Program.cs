using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Tests.Writer;

// FOLDER ORDER FIRST [LOG COUNT]: opens the shop in FOLDER and adds readings FIRST, FIRST+1, ... to ORDER, eight at a time, until it is killed.
// The number of a reading is printed once it is acknowledged, and never before. Exit code 3: the folder cannot be used.
// With LOG, every write to the database is recorded there, and it ends by itself after COUNT readings.
var (folder, order, next) = (args[0], Guid.Parse(args[1]), int.Parse(args[2], CultureInfo.InvariantCulture) - 1);
var (log, last) = args.Length > 3 ? (args[3], next + int.Parse(args[4], CultureInfo.InvariantCulture)) : (null, int.MaxValue);
if (log is not null)
{
    WriteRecorder.Start(log);
}

await using var services = new ServiceCollection().AddShopStorage(folder).BuildServiceProvider();
try
{
    await services.OpenShopAsync();
}
catch (DataFolderException e)
{
    await Console.Error.WriteLineAsync(e.Message);
    return 3;
}

var store = services.GetRequiredService<OrderStore>();
await store.OpenAsync(order, "Writer");
await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(WriteOnAsync)));
if (log is not null)
{
    WriteRecorder.Stop();
}

return 0;

async Task WriteOnAsync()
{
    while (Interlocked.Increment(ref next) is var number && number <= last)
    {
        var answer = await store.AddReadingAsync(order, Numbered(number));
        if (answer.Outcome is not (SaveOutcome.Saved or SaveOutcome.AlreadySaved))
        {
            throw new InvalidOperationException($"Reading {number}: {answer}");
        }

        lock (store)
        {
            if (log is not null)
            {
                WriteRecorder.Acknowledged(number);
                CarryOver(number);
            }

            Console.WriteLine(number.ToString(CultureInfo.InvariantCulture));
            Console.Out.Flush();
        }
    }
}

// Far more often than SQLite does by itself, which would take thousands of readings: carrying the log over into the database is where a power cut is worst.
void CarryOver(int number)
{
    if (number % 40 == 0)
    {
        using var connection = new SqliteConnection($"Data Source={Path.Combine(folder, "shop.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "PRAGMA synchronous=FULL; PRAGMA wal_checkpoint(PASSIVE)";
        command.ExecuteNonQuery();
    }
}

static NewReading Numbered(int number) => new()
{
    Id = new Guid(number, 0, 0, new byte[8]),
    Reading = new Reading
    {
        Test = "compression-dry",
        At = Place.Cylinder(1 + (number % 4)),
        Value = new([KeyValuePair.Create("kPa", FieldValue.Of(number))]),
    },
};
