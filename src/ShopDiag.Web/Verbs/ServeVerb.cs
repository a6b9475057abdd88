using System.CommandLine;
using ShopDiag.Storage;

namespace ShopDiag.Web.Verbs;

/// <summary><c>serve</c>: the web application. Also what happens when no verb is given.</summary>
internal static class ServeVerb
{
    public static void AddTo(RootCommand root, Option<string?> data)
    {
        var command = new Command("serve", "Serve the web application (the default).");
        foreach (var one in new[] { root, command })
        {
            var demo = new Option<bool>("--demo") { Description = "Fill an empty data folder with the demo shop." };
            var urls = new Option<string>("--urls")
            {
                Description = "Addresses to listen on, separated by semicolons. What is not https should stay on this machine: passwords would cross the network in the clear.",
                DefaultValueFactory = _ => ServeOptions.LoopbackUrl,
            };
            var https = new Option<bool>("--https")
            {
                Description = $"Also listen on the shop's network over https ({ServeOptions.HttpsUrl}), with a certificate of the shop's own: a tablet needs it to listen to an engine.",
            };
            one.Add(demo);
            one.Add(https);
            one.Add(urls);
            one.SetAction(async (parsed, _) =>
            {
                var listen = parsed.GetRequiredValue(urls) + (parsed.GetValue(https) ? ";" + ServeOptions.HttpsUrl : "");
                await WebApp.RunAsync(new ServeOptions(DataFolder.Resolve(parsed.GetValue(data)), listen, parsed.GetValue(demo), []));
                return 0;
            });
        }

        root.Add(command);
    }
}
