using ShopDiag.Signals.Measured;
using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Measured.Guided;
using ShopDiag.Signals.Measured.Loops;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Measured.Teeth;

try
{
    var options = Options.Parse(args);
    switch (options.Kind)
    {
        case "runs":
            RunTable.Print(options, Console.Out);
            break;
        case "loops" when options.Loops is not null:
            LoopTable.Print(options, Console.Out);
            break;
        case "cranking":
            CrankingTable.Print(options, Console.Out);
            break;
        case "teeth":
            TeethTable.Print(options, Console.Out);
            break;
        default:
            MeasuredTable.Print(options, Console.Out);
            break;
    }

    return 0;
}
catch (FormatException e)
{
    await Console.Error.WriteLineAsync(e.Message);
    await Console.Error.WriteLineAsync(Options.Usage);
    return 2;
}
