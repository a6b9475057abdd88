using ShopDiag.Diagnosis;
using ShopDiag.VirtualCars;
using ShopDiag.VirtualCars.Play;
using ShopDiag.VirtualCars.SmallWorlds;
using ShopDiag.VirtualCars.Tables;

Options options;
try
{
    options = Options.Parse(args);
}
catch (FormatException wrong)
{
    await Console.Error.WriteLineAsync($"{wrong.Message}\n{Options.Usage}").ConfigureAwait(false);
    return 2;
}

if (options.Worlds)
{
    await Console.Out.WriteAsync(SmallWorldReport.Markdown()).ConfigureAwait(false);
    return 0;
}

var fair = new Fair(options.Maker, options.Plan, Knowledge.Shipped);
var policies = Fair.Policies.Where(p => p.Name.Contains(options.Policy, StringComparison.OrdinalIgnoreCase)).ToArray();
if (options.Trace is { } index)
{
    await Console.Out.WriteLineAsync(Dialogue.Of(fair, index, policies[0])).ConfigureAwait(false);
    return 0;
}

var started = TimeProvider.System.GetTimestamp();
var results = fair.PlayAll(policies, options.Parallel, done =>
{
    if (done % 50 == 0 || done == options.Cars)
    {
        Console.Error.WriteLine($"{done} of {options.Cars} cars, {TimeProvider.System.GetElapsedTime(started).TotalSeconds:0} s");
    }
});
var report = new Report(options.Plan, options.Maker.Name, results, [.. policies.Select(p => p.Name)]).Write();
if (options.Failures)
{
    foreach (var (policy, result) in results.SelectMany(r => r.Value.Select(v => (r.Key, v))).Where(r => r.v.Ending != Ending.Right))
    {
        Console.Error.WriteLine($"{policy}: car {result.Index} ({result.Engine}) {string.Join(" and ", result.Causes)}: {result.Ending}, {result.Minutes:0} minutes, said: {result.Said}");
    }
}

if (options.Out is { } file)
{
    await File.WriteAllTextAsync(file, report).ConfigureAwait(false);
}
else
{
    await Console.Out.WriteAsync(report).ConfigureAwait(false);
}

return 0;
