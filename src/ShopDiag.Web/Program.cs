if (args is ["diagnose"]) { return await ShopDiag.Web.Verbs.DiagnoseVerb.RunAsync(Console.In, Console.Out, Console.Error, ShopDiag.Diagnosis.Knowledge.Shipped); }
var builder = WebApplication.CreateBuilder(args);
var app = builder.Build();
app.MapGet("/health/live", () => "ok");
app.Run();
return 0;
