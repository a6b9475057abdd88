using ShopDiag.Browser.Tests.Running;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>Addresses of the demo shop, with what must be on the page before it is looked at.</summary>
internal static class Places
{
    public static string Order(int number) => $"/orders/{number}";

    public static string Workup(int number) => $"/orders/{number}/workup";

    /// <summary>Opens an order with one part open.</summary>
    public static Task OpenOrderAsync(this Tab tab, int number, string part) => tab.OpenAsync($"{Order(number)}?part={part}");

    /// <summary>Opens a workup, ready to be touched.</summary>
    public static async Task OpenWorkupAsync(this Tab tab, int number)
    {
        await tab.OpenAsync(Workup(number));
        await tab.Page.SheetIsThereAsync();
    }
}
