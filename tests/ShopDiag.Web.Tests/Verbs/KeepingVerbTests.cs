using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Tests.Verbs;

/// <summary><c>backup</c>, <c>restore</c>, <c>check</c>, <c>export</c>, <c>import</c> and <c>customer</c> as scripts call them.</summary>
public sealed class KeepingVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-verbs-").FullName;

    private string Shop => Path.Combine(_folder, "shop");

    private string Other => Path.Combine(_folder, "other");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_shop_in_use_is_backed_up_and_put_back_elsewhere()
    {
        var file = Path.Combine(_folder, "b.zip");
        await using (var services = await DemoAsync())
        {
            var (code, output, errors) = await Shell.RunAsync("", "backup", file, "--data", Shop);
            Assert.Equal((0, ""), (code, errors));
            Assert.Equal(17, JsonDocument.Parse(output).RootElement.GetProperty("orders").GetInt32());
            if (!OperatingSystem.IsWindows())
            {
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
            }

            // In use: the verb says where to do it instead of pulling the records away from under the pages.
            (code, _, errors) = await Shell.RunAsync("", "restore", file, "--data", Shop);
            Assert.Equal(1, code);
            Assert.Contains("in use by another ShopDiag", errors, StringComparison.Ordinal);
        }

        Assert.Equal(0, (await Shell.RunAsync("", "restore", file, "--data", Other)).Code);
        var check = await Shell.RunAsync("", "check", "--data", Other);
        Assert.Equal((0, ""), (check.Code, check.Errors));
        Assert.True(JsonDocument.Parse(check.Output).RootElement.GetProperty("sound").GetBoolean());
    }

    [Fact]
    public async Task Out_in_and_out_again_gives_the_same_bytes()
    {
        await using (await DemoAsync())
        {
            Assert.Equal((0, ""), Ended(await Shell.RunAsync("", "export", Path.Combine(_folder, "1.zip"), "--data", Shop)));
        }

        Assert.Equal((0, ""), Ended(await Shell.RunAsync("", "import", Path.Combine(_folder, "1.zip"), "--data", Other)));
        Assert.Equal((0, ""), Ended(await Shell.RunAsync("", "export", Path.Combine(_folder, "2.zip"), "--data", Other)));
        Assert.Equal(await File.ReadAllBytesAsync(Path.Combine(_folder, "1.zip")), await File.ReadAllBytesAsync(Path.Combine(_folder, "2.zip")));
        var again = await Shell.RunAsync("", "import", Path.Combine(_folder, "1.zip"), "--data", Other);
        Assert.Equal(1, again.Code);
        Assert.Contains("empty one only", again.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_customer_is_handed_out_and_erased_by_the_number_of_an_order()
    {
        var name = "";
        await using (var services = await DemoAsync())
        {
            var orders = services.GetRequiredService<OrderStore>();
            var order = (await orders.GetByNumberAsync(1001))!;
            name = order.Customer.Name;
        }

        Assert.Equal((0, ""), Ended(await Shell.RunAsync("", "customer", "export", "1001", Path.Combine(_folder, "c.zip"), "--data", Shop)));
        var erased = await Shell.RunAsync("", "customer", "erase", "1001", "--data", Shop);
        var open = await Shell.RunAsync("", "customer", "erase", "1014", "--data", Shop);
        Assert.Equal((0, 1), (erased.Code, open.Code));
        Assert.Contains("still open", open.Errors, StringComparison.Ordinal);
        Assert.NotEqual("", name);
        await using var again = new ServiceCollection().AddLogging().AddShopStorage(Shop).BuildServiceProvider();
        await again.OpenShopAsync();
        Assert.Equal("Erased customer", (await again.GetRequiredService<OrderStore>().GetByNumberAsync(1001))!.Customer.Name);
    }

    [Theory]
    [InlineData("restore", "nothing", "There is no backup nothing")]
    [InlineData("check", null, "There are no records")]
    [InlineData("backup", "x.zip", "There are no records")]
    [InlineData("export", "x.zip", "There are no records")]
    [InlineData("import", "missing.zip", "missing.zip")]
    public async Task What_cannot_be_done_is_said_in_words_with_exit_code_one(string verb, string? argument, string expected)
    {
        var (code, output, errors) = await Shell.RunAsync("", [verb, .. argument is null ? Array.Empty<string>() : [argument], "--data", Other]);
        Assert.Equal((1, ""), (code, output));
        Assert.Contains(expected, errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    private static (int Code, string Errors) Ended((int Code, string Output, string Errors) run) => (run.Code, run.Errors);

    private async Task<ServiceProvider> DemoAsync()
    {
        var services = new ServiceCollection().AddLogging().AddShopStorage(Shop).BuildServiceProvider();
        await services.OpenShopAsync();
        await services.GetRequiredService<ShopStore>().LoadDemoAsync();
        return services;
    }
}
