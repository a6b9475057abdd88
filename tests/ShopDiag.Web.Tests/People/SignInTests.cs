using System.Net;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.People;
using ShopDiag.Web.People;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.People;

/// <summary>In and out, with a password and with a PIN, by those who may and those who try. A shop a test: tries are limited a minute.</summary>
public sealed class SignInTests : IAsyncLifetime
{
    private readonly RunningShop _shop = new();

    private PeopleDirectory People => _shop.Services.GetRequiredService<PeopleDirectory>();

    private Person Rosa => People.FindByLogin("rosa")!;

    public ValueTask InitializeAsync() => _shop.InitializeAsync();

    public ValueTask DisposeAsync() => _shop.DisposeAsync();

    [Fact]
    public async Task The_cookie_of_a_sign_in_is_out_of_reach_for_scripts_and_other_sites_and_new_each_time()
    {
        using var browser = _shop.NewBrowser();
        using var first = await browser.SubmitAsync("/sign-in", "sign-in", ("Login", "ROSA "), ("Password", RunningShop.Password));
        using var second = await browser.SubmitAsync("/sign-in", "sign-in", ("Login", "rosa"), ("Password", RunningShop.Password));
        var cookies = new[] { first, second }.Select(a => a.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith("shopdiag.session=", StringComparison.Ordinal))).ToArray();
        Assert.All(cookies, c => Assert.True(c.Contains("; samesite=strict", StringComparison.Ordinal) && c.Contains("; httponly", StringComparison.Ordinal), c));
        Assert.NotEqual(cookies[0].Split(';')[0], cookies[1].Split(';')[0]);
    }

    [Fact]
    public async Task Five_wrong_passwords_block_the_right_one_and_an_unknown_name_gets_the_same_words()
    {
        using var browser = _shop.NewBrowser();
        var words = new List<string> { await FaultAsync(browser, "nobody", "wrong") };
        for (var i = 0; i < 5; i++)
        {
            words.Add(await FaultAsync(browser, "rosa", "wrong"));
        }

        words.Add(await FaultAsync(browser, "rosa", RunningShop.Password));
        Assert.Single(words.Distinct());
        Assert.True(Rosa.PasswordBlockedUntil > DateTime.UtcNow);
        Assert.Contains(await ShopRecordAsync(), e => e is { What: "password blocked", After: "Rosa" });
    }

    [Fact]
    public async Task More_than_twenty_tries_a_minute_from_one_address_are_not_even_looked_at()
    {
        using var browser = _shop.NewBrowser();
        var answers = new List<HttpStatusCode>();
        for (var i = 0; i < PeopleServices.TriesAMinute + 1; i++)
        {
            using var answer = await browser.SubmitAsync("/sign-in", "sign-in", ("Login", $"nobody{i}"), ("Password", "wrong"));
            answers.Add(answer.StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, answers[^1]);
    }

    [Fact]
    public async Task A_form_without_its_token_signs_nobody_in_or_out()
    {
        using var browser = _shop.NewBrowser();
        using var form = new FormUrlEncodedContent([new("_handler", "sign-in"), new("Login", "rosa"), new("Password", RunningShop.Password)]);
        using var signIn = await browser.PostAsync(new Uri("/sign-in", UriKind.Relative), form);
        using var signOut = await _shop.Client.PostAsync(new Uri("/sign-out", UriKind.Relative), new FormUrlEncodedContent([]));
        using var still = await _shop.Client.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal((HttpStatusCode.BadRequest, HttpStatusCode.BadRequest, HttpStatusCode.OK), (signIn.StatusCode, signOut.StatusCode, still.StatusCode));
    }

    [Fact]
    public async Task A_PIN_is_taken_only_on_a_remembered_device_and_not_for_people_and_data()
    {
        using var tablet = await TabletWithPinAsync("835172");
        using var signedOut = await tablet.SubmitAsync("/me", "", "/sign-out", ("to", "/switch?return=/parts"));
        Assert.Equal("/switch?return=/parts", signedOut.Headers.Location!.OriginalString);
        using var gone = await tablet.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.NotEqual(HttpStatusCode.OK, gone.StatusCode);

        using var answer = await PinAsync(tablet, "835172");
        Assert.Equal((HttpStatusCode.Redirect, "/orders"), (answer.StatusCode, answer.Headers.Location!.OriginalString.Replace(tablet.BaseAddress!.GetLeftPart(UriPartial.Authority), "", StringComparison.Ordinal)));
        using var settings = await tablet.GetAsync(new Uri("/settings", UriKind.Relative));
        using var people = await tablet.GetAsync(new Uri("/people", UriKind.Relative));
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.Forbidden), (settings.StatusCode, people.StatusCode));
        Assert.Contains("A PIN is not enough", await people.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        using var stranger = _shop.NewBrowser();
        using var led = await stranger.GetAsync(new Uri("/switch", UriKind.Relative));
        Assert.StartsWith("/sign-in", new Uri(stranger.BaseAddress!, led.Headers.Location!).PathAndQuery, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Wrong_PINs_make_one_wait_and_the_fifth_locks_until_the_password()
    {
        using var tablet = await TabletWithPinAsync("835172");
        for (var i = 1; i <= SignIns.MostPinTries; i++)
        {
            using var wrong = await PinAsync(tablet, "111222");
            Assert.Equal(HttpStatusCode.OK, wrong.StatusCode);
            if (i == 3)
            {
                // The right one is not even looked at while one has to wait.
                using var hasty = await PinAsync(tablet, "835172");
                Assert.Contains("Wait ", await hasty.Content.ReadAsStringAsync(), StringComparison.Ordinal);
                Assert.Equal(3, Rosa.PinFailures);
            }

            await People.ChangeAsync(Rosa.Id, (p, _) => p with { PinBlockedUntil = null }, Actor.Program, null);
        }

        using var locked = await PinAsync(tablet, "835172");
        Assert.Contains("Too many wrong PINs", await locked.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        await tablet.SignInAsync("rosa", RunningShop.Password);
        using var again = await PinAsync(tablet, "835172");
        Assert.Equal(HttpStatusCode.Redirect, again.StatusCode);
    }

    [Fact]
    public async Task A_forgotten_device_takes_no_PIN_any_more()
    {
        using var tablet = await TabletWithPinAsync("835172");
        await _shop.Services.GetRequiredService<PeopleStore>().ForgetDeviceAsync(Assert.Single(People.Devices).Id);
        using var led = await tablet.GetAsync(new Uri("/switch", UriKind.Relative));
        Assert.Equal(HttpStatusCode.Redirect, led.StatusCode);
    }

    [Fact]
    public async Task Signed_out_everywhere_every_browser_is_out_at_its_next_request()
    {
        using var other = _shop.NewBrowser();
        await other.SignInAsync("rosa", RunningShop.Password);
        await _shop.Services.GetRequiredService<PeopleStore>().SignOutEverywhereAsync(Rosa.Id);
        foreach (var browser in new[] { other, _shop.Client })
        {
            using var answer = await browser.GetAsync(new Uri("/orders", UriKind.Relative));
            Assert.Equal("/sign-in?return=%2Forders", answer.Headers.Location?.OriginalString);
        }
    }

    [Fact]
    public async Task A_password_that_was_handed_over_opens_nothing_but_the_page_that_changes_it()
    {
        var (people, id) = (_shop.Services.GetRequiredService<PeopleStore>(), Guid.NewGuid());
        await people.AddAsync(id, "sam", "Sam", PersonRole.Technician, _shop.Services.GetRequiredService<Passwords>().Hash("handed-over-1"));
        using var browser = _shop.NewBrowser();
        await browser.SignInAsync("sam", "handed-over-1");
        using var orders = await browser.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal("/me", orders.Headers.Location?.OriginalString);

        using var weak = await browser.SubmitAsync("/me", "password", ("Now", "handed-over-1"), ("Next", "password123"), ("Again", "password123"));
        Assert.Contains("too easily guessed", await weak.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using var changed = await browser.SubmitAsync("/me", "password", ("Now", "handed-over-1"), ("Next", "walnut-ferry-42-tin"), ("Again", "walnut-ferry-42-tin"));
        Assert.Equal(HttpStatusCode.Redirect, changed.StatusCode);
        using var opened = await browser.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal(HttpStatusCode.OK, opened.StatusCode);
    }

    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example/")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("javascript:alert(1)")]
    public async Task The_sign_in_leads_to_no_other_site(string address)
    {
        using var browser = _shop.NewBrowser();
        using var answer = await browser.SubmitAsync($"/sign-in?return={Uri.EscapeDataString(address)}", "sign-in", ("Login", "rosa"), ("Password", RunningShop.Password));
        Assert.Equal(new Uri(browser.BaseAddress!, "/orders"), new Uri(browser.BaseAddress!, answer.Headers.Location!));
    }

    [Fact]
    public async Task Nothing_secret_stands_in_the_record_or_in_words_about_a_person()
    {
        using var tablet = await TabletWithPinAsync("835172");
        using var wrong = await PinAsync(tablet, "111222");
        var record = string.Join('\n', (await ShopRecordAsync()).Select(e => $"{e.What} {e.Before} {e.After} {e.Who}"));
        Assert.All(new[] { RunningShop.Password, "835172", "111222", Rosa.PasswordHash, Rosa.PinHash, Rosa.Stamp }, secret => Assert.DoesNotContain(secret, record, StringComparison.Ordinal));
        Assert.Equal("Rosa (Owner)", Rosa.ToString());
    }

    private static async Task<string> FaultAsync(HttpClient browser, string login, string password)
    {
        using var answer = await browser.SubmitAsync("/sign-in", "sign-in", ("Login", login), ("Password", password));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadAsStringAsync()).Split("role=\"alert\">")[1].Split("</p>")[0];
    }

    private Task<System.Collections.Immutable.ImmutableArray<AuditEntry>> ShopRecordAsync() => _shop.Services.GetRequiredService<AuditStore>().OfShopAsync(null, 100);

    private Task<HttpResponseMessage> PinAsync(HttpClient tablet, string pin) => tablet.SubmitAsync("/switch", "switch", ("Who", Rosa.Id.ToString()), ("Pin", pin));

    // A browser that remembers the device, of an owner who has set a PIN through the page for it.
    private async Task<HttpClient> TabletWithPinAsync(string pin)
    {
        var tablet = _shop.NewBrowser();
        await tablet.SignInAsync("rosa", RunningShop.Password, remember: true);
        using var set = await tablet.SubmitAsync("/me", "pin", ("Now", RunningShop.Password), ("Pin", pin), ("PinAgain", pin));
        Assert.Equal(HttpStatusCode.Redirect, set.StatusCode);
        return tablet;
    }
}
