using System.CommandLine;
using ShopDiag.Load;

var tablets = new Option<int[]>("--tablets") { Description = "How many at once; several numbers are measured one after the other.", DefaultValueFactory = _ => [200], AllowMultipleArgumentsPerToken = true };
var seconds = new Option<int>("--seconds") { Description = "How long they work.", DefaultValueFactory = _ => 120 };
var reading = new Option<double>("--a-reading") { Description = "Seconds from one reading to the next, on average.", DefaultValueFactory = _ => 12 };
var root = new RootCommand("Tablets that type readings at a human pace: the time of each answer and the memory of each page.") { tablets, seconds, reading };
root.SetAction(async (parsed, _) =>
{
    Console.WriteLine(LoadRun.Heading);
    var good = true;
    foreach (var count in parsed.GetRequiredValue(tablets))
    {
        var run = await LoadRun.RunAsync(count, TimeSpan.FromSeconds(parsed.GetValue(seconds)), TimeSpan.FromSeconds(parsed.GetValue(reading)));
        Console.WriteLine(run);
        good &= run.NothingLost;
    }

    return good ? 0 : 1;
});
return await root.Parse(args).InvokeAsync();
