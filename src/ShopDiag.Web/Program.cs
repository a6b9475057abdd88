using ShopDiag.Web;

if (args is ["diagnose"]) { return await ShopDiag.Web.Verbs.DiagnoseVerb.RunAsync(Console.In, Console.Out, Console.Error, ShopDiag.Diagnosis.Knowledge.Shipped); }

var dataFolder = Environment.GetEnvironmentVariable("SHOPDIAG_DATA") is { Length: > 0 } set
    ? set
    : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData), "ShopDiag");
await WebApp.RunAsync(new ServeOptions(dataFolder, ServeOptions.LoopbackUrl, args.Contains("--demo"), args));
return 0;

/// <summary>Named so that tests can find the entry point.</summary>
public partial class Program;
