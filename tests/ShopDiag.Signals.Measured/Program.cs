using ShopDiag.Signals.Measured;
using ShopDiag.Signals.Measured.Guided;
using ShopDiag.Signals.Measured.Tables;

try
{
    var options = Options.Parse(args);
    if (options.Kind == "runs")
    {
        RunTable.Print(options, Console.Out);
    }
    else
    {
        MeasuredTable.Print(options, Console.Out);
    }

    return 0;
}
catch (FormatException e)
{
    await Console.Error.WriteLineAsync(e.Message);
    await Console.Error.WriteLineAsync(Options.Usage);
    return 2;
}
