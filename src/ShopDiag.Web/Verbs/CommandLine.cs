using System.CommandLine;
using ShopDiag.Storage;

namespace ShopDiag.Web.Verbs;

/// <summary>The verbs. Exit code 0; 1 for bad input or a folder that cannot be used, said in words on standard error; 2 for wrong usage.</summary>
public static class CommandLine
{
    private const int BadInput = 1;
    private const int WrongUsage = 2;

    /// <summary>Runs the verb that the arguments name; <c>serve</c> when they name none.</summary>
    public static async Task<int> RunAsync(string[] args)
    {
        var parsed = Create().Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                await Console.Error.WriteLineAsync(error.Message);
            }

            await Console.Error.WriteLineAsync("See --help.");
            return WrongUsage;
        }

        try
        {
            return await parsed.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
        }
        catch (Exception e) when (e is DataFolderException or IOException or UnauthorizedAccessException)
        {
            await Console.Error.WriteLineAsync(e.Message);
            return BadInput;
        }
    }

    private static RootCommand Create()
    {
        var data = new Option<string?>("--data")
        {
            Description = $"Folder of the shop's data; otherwise the environment variable {DataFolder.Variable}, otherwise a folder of the user's.",
            Recursive = true,
        };
        var root = new RootCommand("ShopDiag: finds which cylinder misfires and why, proves it, and writes it up.") { data };
        ServeVerb.AddTo(root, data);
        root.Add(DiagnoseVerb.Create());
        root.Add(ListenVerb.Create());
        root.Add(CrankVerb.Create());
        root.Add(DecodeVerb.Create());
        root.Add(ReportVerb.Create(data));
        root.Add(ComebacksVerb.Create(data));
        foreach (var command in BackupVerbs.Create(data).Concat(DataVerbs.Create(data)))
        {
            root.Add(command);
        }

        root.Add(ResetOwnerVerb.Create(data));
        return root;
    }
}
