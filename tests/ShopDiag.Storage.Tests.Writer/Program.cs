using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;

// FOLDER ORDER FIRST: opens the shop in FOLDER and adds readings FIRST, FIRST+1, ... to ORDER, eight at a time, until it is killed.
// The number of a reading is printed once it is acknowledged, and never before. Exit code 3: the folder cannot be used.
var (folder, order, next) = (args[0], Guid.Parse(args[1]), int.Parse(args[2], CultureInfo.InvariantCulture) - 1);
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
return 0;

async Task WriteOnAsync()
{
    while (true)
    {
        var number = Interlocked.Increment(ref next);
        var answer = await store.AddReadingAsync(order, Numbered(number));
        if (answer.Outcome is not (SaveOutcome.Saved or SaveOutcome.AlreadySaved))
        {
            throw new InvalidOperationException($"Reading {number}: {answer}");
        }

        lock (store)
        {
            Console.WriteLine(number.ToString(CultureInfo.InvariantCulture));
            Console.Out.Flush();
        }
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
