using ShopDiag.Web;

var dataFolder = Environment.GetEnvironmentVariable("SHOPDIAG_DATA") is { Length: > 0 } set
    ? set
    : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData), "ShopDiag");
await WebApp.RunAsync(new ServeOptions(dataFolder, ServeOptions.LoopbackUrl, args.Contains("--demo"), args));

/// <summary>Named so that tests can find the entry point.</summary>
public partial class Program;
