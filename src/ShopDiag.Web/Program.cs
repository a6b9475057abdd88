return await ShopDiag.Web.Verbs.CommandLine.RunAsync(args);

/// <summary>Named so that tests can find the entry point.</summary>
public partial class Program;
