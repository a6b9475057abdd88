using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Api;

/// <summary>The owner's page of programs.</summary>
public sealed class ProgramsPageTests : PageTest, IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-programs-").FullName;
    private ServiceProvider _shop = null!;
    private Person _rosa = null!;

    private TokenDirectory Known => _shop.GetRequiredService<TokenDirectory>();

    public async ValueTask InitializeAsync()
    {
        _shop = new ServiceCollection().AddLogging().AddSingleton<TimeProvider>(Time).AddSingleton<IActing>(Acting).AddShopStorage(_folder).BuildServiceProvider();
        await _shop.OpenShopAsync();
        var people = _shop.GetRequiredService<PeopleDirectory>();
        await people.AddFirstAsync([new() { Id = Guid.NewGuid(), Login = "rosa", Name = "Rosa", Role = PersonRole.Owner, Stamp = PeopleDirectory.NewSecret(), CreatedAt = default }]);
        _rosa = people.FindByLogin("rosa")!;
        Acting.Current = Actor.Of(_rosa, SignInWay.Password, "");
        Services.AddSingleton(Known).AddSingleton(_shop.GetRequiredService<TokenStore>()).AddSingleton(people).AddSingleton(_shop.GetRequiredService<ShopStore>());
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await DisposeAsync();
        await _shop.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void A_token_is_shown_once_and_holds()
    {
        var page = Render<ProgramsPage>();
        Assert.Contains("No program is answered", page.Markup, StringComparison.Ordinal);
        Make(page, "Bench computer");
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#secret")));
        var secret = page.Find("#secret").GetAttribute("value")!;
        Assert.StartsWith(TokenSecret.Prefix, secret, StringComparison.Ordinal);
        Assert.NotNull(Known.Find(secret, Time.GetUtcNow()));
        Assert.Equal("Bench computer", Assert.Single(page.FindAll(".token h3")).TextContent);
        Assert.Contains("Diagnosis and recordings.", page.Find(".token").TextContent, StringComparison.Ordinal);
        page.WaitForAssertion(() => Assert.Equal("", page.Find("#token-name").GetAttribute("value") ?? ""));

        page.Act(p => p.Find(".token-new .button:not(.button-main)").Click());
        Assert.DoesNotContain(secret, page.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain(secret, Render<ProgramsPage>().Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Revoking_is_done_by_one_touch_and_beside_it_stands_that_it_is_for_good()
    {
        var page = Render<ProgramsPage>();
        Make(page, "Bookkeeping");
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#secret")));
        var secret = page.Find("#secret").GetAttribute("value")!;
        var revoke = page.Find(".token-revoke .button");
        Assert.Equal("Revoke: Bookkeeping", revoke.GetAttribute("aria-label"));
        Assert.Contains("cannot be brought back", page.Find("#" + revoke.GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
        page.Act(p => p.Find(".token-revoke .button").Click());
        page.WaitForAssertion(() => Assert.Contains("Does not hold: revoked", page.Find(".token-ended .token").TextContent, StringComparison.Ordinal));
        Assert.Empty(page.FindAll(".token-revoke"));
        Assert.Null(Known.Find(secret, Time.GetUtcNow()));
    }

    [Fact]
    public async Task The_record_says_in_words_what_a_token_may_do()
    {
        var page = Render<ProgramsPage>();
        Make(page, "Till: front");
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#secret")));
        var entry = (await _shop.GetRequiredService<Storage.Audit.AuditStore>().OfShopAsync(null, 1)).Single();
        Assert.Equal("Token made: Till: front; may: Diagnosis and recordings", Web.People.AuditWords.Of(entry, Diagnosis.Knowledge.Shipped, "USD"));
    }

    [Fact]
    public void What_is_missing_is_said_and_what_was_typed_stays()
    {
        var page = Render<ProgramsPage>();
        page.Act(p => p.Find(".token-grants input").Change(false));
        Make(page, "Bench computer");
        page.WaitForAssertion(() => Assert.Contains("at least one thing", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal("Bench computer", page.Find("#token-name").GetAttribute("value"));
        page.Act(p => p.Find(".token-grants input").Change(true));
        Make(page, "Bench computer");
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#secret")));
        Make(page, "bench COMPUTER");
        page.WaitForAssertion(() => Assert.Contains("has a token already", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Empty(page.FindAll("#secret"));
    }

    [Fact]
    public void A_token_ends_with_its_day_and_with_whoever_made_it()
    {
        var page = Render<ProgramsPage>();
        page.Act(p => p.Find("#token-end").Change("30"));
        Make(page, "Bench computer");
        page.WaitForAssertion(() => Assert.Single(page.FindAll(".token")));
        Time.Advance(TimeSpan.FromDays(31));
        Assert.Contains("it was over", Render<ProgramsPage>().Find(".token-ended .token").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_PIN_is_not_enough()
    {
        Acting.Current = Actor.Of(_rosa, SignInWay.Pin, "");
        var page = Render<ProgramsPage>();
        Make(page, "Bench computer");
        page.WaitForAssertion(() => Assert.Contains("A PIN is not enough", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Empty(Known.All);
    }

    private static void Make(IRenderedComponent<ProgramsPage> page, string name)
    {
        page.Act(p => p.Find("#token-name").Input(name));
        page.Act(p => p.Find("form").Submit());
    }
}
