using ShopDiag.Storage;
using ShopDiag.Web;

var given = new ConfigurationBuilder().AddCommandLine(args).Build();
await WebApp.RunAsync(new ServeOptions(DataFolder.Resolve(given["data"]), given["urls"] ?? ServeOptions.LoopbackUrl, args.Contains("--demo"), args));

/// <summary>Named so that tests can find the entry point.</summary>
public partial class Program;
