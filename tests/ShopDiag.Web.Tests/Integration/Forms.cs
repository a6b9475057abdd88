using System.Net;
using System.Text.RegularExpressions;

namespace ShopDiag.Web.Tests.Integration;

/// <summary>Forms as a browser without scripts sends them: gets the page, takes over what is hidden in it, posts.</summary>
internal static partial class Forms
{
    /// <summary>Sends the form of a page with a name.</summary>
    public static Task<HttpResponseMessage> SubmitAsync(this HttpClient browser, string path, string form, params (string Name, string Value)[] fields) =>
        browser.SubmitAsync(path, form, path, fields);

    /// <summary>Sends a form that stands on one page to another address.</summary>
    public static async Task<HttpResponseMessage> SubmitAsync(this HttpClient browser, string path, string form, string to, params (string Name, string Value)[] fields)
    {
        var page = await browser.GetStringAsync(new Uri(path, UriKind.Relative));
        var token = Token().Match(page).Groups[1].Value;
        Assert.NotEmpty(token);
        using var content = new FormUrlEncodedContent(
            [new("_handler", form), new("__RequestVerificationToken", WebUtility.HtmlDecode(token)), .. fields.Select(f => KeyValuePair.Create(f.Name, f.Value))]);
        return await browser.PostAsync(new Uri(to, UriKind.Relative), content);
    }

    /// <summary>Signs somebody in.</summary>
    public static async Task SignInAsync(this HttpClient browser, string login, string password, bool remember = false)
    {
        using var answer = await browser.SubmitAsync("/sign-in", "sign-in", [("Login", login), ("Password", password), .. remember ? [("Remember", "true")] : Array.Empty<(string, string)>()]);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
    }

    /// <summary>Makes somebody the owner of a new shop.</summary>
    public static async Task SetUpAsync(this HttpClient browser, string code, string name, string login, string password)
    {
        using var answer = await browser.SubmitAsync("/set-up", "set-up", ("Typed", code), ("Name", name), ("Login", login), ("Password", password), ("Again", password));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
    }

    [GeneratedRegex(@"name=""__RequestVerificationToken"" value=""([^""]+)""")]
    private static partial Regex Token();
}
