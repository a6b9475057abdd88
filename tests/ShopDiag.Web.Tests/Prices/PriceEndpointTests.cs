using System.Net;
using System.Net.Http.Json;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.People;
using ShopDiag.Web.Prices;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Prices;

/// <summary>The price list over HTTP, as a spreadsheet makes and reads it, and as somebody makes it who means no good.</summary>
public sealed class PriceEndpointTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private PriceStore Prices => shop.Services.GetRequiredService<PriceStore>();

    [Fact]
    public async Task Good_rows_go_in_and_each_bad_one_is_named_with_its_line_and_why()
    {
        var answer = await ImportAsync("kind,name,price\npart,Whistle coil,12.50\ngift,Cake,3\npart,Horn,\"120,50\"\npart,Whistle plug,4\n");
        Assert.Equal((2, 0, ""), (answer.Added, answer.Changed, answer.Error));
        Assert.Equal(["line 3", "line 4"], answer.Refused.Select(r => r.At));
        Assert.Contains("“gift” is no kind", answer.Refused[0].Message, StringComparison.Ordinal);
        Assert.Contains("point before the decimals", answer.Refused[1].Message, StringComparison.Ordinal);

        var again = await ImportAsync("kind,name,price\npart,whistle COIL,13\n");
        Assert.Equal((0, 1), (again.Added, again.Changed));
        Assert.Equal(1300, (await Prices.GetAsync()).Find(LineKind.Part, "Whistle coil", "")!.PriceMinor);
    }

    [Fact]
    public async Task What_went_out_comes_in_again_unchanged()
    {
        PriceEntry[] entries =
        [
            new() { Kind = LineKind.Part, Name = "Round \"trip\" µ, Ωmega", For = "=V6", PriceMinor = 1, CoreMinor = 250, Vendor = "-Søn & Co", Maker = "@x", PartNumber = "+1" },
            new() { Kind = LineKind.Labour, Name = "Round trip", Minutes = 12.5 },
            new() { Kind = LineKind.Fee, Name = "Round trip", PriceMinor = 99, EveryOrder = true },
        ];
        await Prices.PutAsync(entries);
        var before = (await Prices.GetAsync()).Entries;
        var file = await shop.Client.GetByteArrayAsync(new Uri("/shop/prices.csv", UriKind.Relative));
        foreach (var entry in before)
        {
            await Prices.RemoveAsync(entry.Key);
        }

        var answer = await ImportAsync(file);
        Assert.Equal((before.Length, 0), (answer.Added, answer.Refused.Length));
        Assert.Equal(before, (await Prices.GetAsync()).Entries);
    }

    [Theory]
    [InlineData("/shop/prices.csv", "prices.csv")]
    [InlineData("/shop/prices-template.csv", "prices-template.csv")]
    public async Task The_file_is_one_that_spreadsheets_open_and_browsers_only_save(string path, string name)
    {
        using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        var bytes = await answer.Content.ReadAsByteArrayAsync();
        Assert.Equal(("text/csv", "utf-8", "attachment", name), (answer.Content.Headers.ContentType!.MediaType, answer.Content.Headers.ContentType.CharSet, answer.Content.Headers.ContentDisposition!.DispositionType, answer.Content.Headers.ContentDisposition.FileName));
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal([0xEF, 0xBB, 0xBF], bytes[..3]);
        Assert.StartsWith("kind,name,for,price,core,minutes,vendor,maker,part number,every order\r\n", Encoding.UTF8.GetString(bytes[3..]), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_template_holds_a_row_of_each_kind_and_reads_as_it_is()
    {
        var import = PriceCsv.Read(new StringReader(await shop.Client.GetStringAsync(new Uri("/shop/prices-template.csv", UriKind.Relative))), "USD");
        Assert.Empty(import.Refused);
        Assert.Equal(Enum.GetValues<LineKind>(), import.Entries.Select(e => e.Kind));
    }

    [Theory]
    [InlineData("utf-8", false)]
    [InlineData("utf-8", true)]
    [InlineData("utf-16", true)]
    [InlineData("utf-16BE", true)]
    [InlineData("windows-1252", false)]
    public async Task A_file_is_read_in_whatever_letters_the_spreadsheet_saved_it(string encoding, bool marked)
    {
        var letters = CodePagesEncodingProvider.Instance.GetEncoding(encoding) ?? Encoding.GetEncoding(encoding);
        byte[] file = [.. marked ? letters.GetPreamble() : [], .. letters.GetBytes("kind;name;price\npart;Zündspule für 50 €;12.50\n")];
        await ImportAsync(file);
        Assert.NotNull((await Prices.GetAsync()).Find(LineKind.Part, "Zündspule für 50 €", ""));
        await Prices.RemoveAsync("Part|zündspule für 50 €|");
    }

    [Theory]
    [InlineData("")]
    [InlineData("\0\0\0\0")]
    [InlineData("PK\u0003\u0004 a workbook, not a CSV file")]
    [InlineData("kind,name,price\n\"part,never closed,12")]
    [InlineData("kind,name,price\npart,<script>alert(1)</script>,1e99\n")]
    [InlineData("kind,name,price\npart,Nothing\u0000ness,-5\n")]
    [InlineData("kind,name,price\npart,\u0000\u0001,5\n")]
    [InlineData("kind,name,price\npart,Too dear,99999999999999999999999999999999\n")]
    [InlineData("kind,kind,name,name\npart,fee,a,b\n")]
    public async Task What_cannot_be_a_price_is_refused_in_words_and_nothing_goes_in(string file)
    {
        var before = (await Prices.GetAsync()).Entries;
        var answer = await ImportAsync(file);
        Assert.NotEmpty(answer.Refused);
        Assert.All(answer.Refused, r => Assert.Matches("^line [0-9]+$", r.At));
        Assert.All(answer.Refused, r => Assert.InRange(r.Message.Length, 10, 400));
        Assert.Equal(before, (await Prices.GetAsync()).Entries);
    }

    [Fact]
    public async Task A_cell_without_an_end_and_a_name_without_one_are_refused()
    {
        var answer = await ImportAsync($"kind,name,price\npart,{new string('x', 201)},1\n{new string('k', 5000)},y,1\npart,\"{new string('z', 50_000)}\",1\n");
        Assert.Equal(3, answer.Refused.Length);
        Assert.All(answer.Refused, r => Assert.InRange(r.Message.Length, 10, 400));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task More_than_ten_megabytes_are_not_read(bool unannounced)
    {
        using var content = new StreamContent(new Endless(PriceEndpoints.LargestBytes + 1));
        content.Headers.ContentLength = unannounced ? null : PriceEndpoints.LargestBytes + 1;
        using var request = await RequestAsync(content);
        request.Headers.TransferEncodingChunked = unannounced;
        request.Headers.ExpectContinue = true;
        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Contains("10 MB", (await answer.Content.ReadFromJsonAsync<PriceAnswer>())!.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("CfDJ8-made-up")]
    public async Task A_file_that_did_not_come_from_our_page_is_turned_away(string? token)
    {
        var before = (await Prices.GetAsync()).Entries;
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri("/shop/prices.csv", UriKind.Relative)) { Content = new StringContent("kind,name,price\nfee,Slipped in,1\n", Encoding.UTF8, "text/csv") };
        if (token is not null)
        {
            request.Headers.TryAddWithoutValidation("RequestVerificationToken", token);
        }

        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(before, (await Prices.GetAsync()).Entries);
    }

    [Fact]
    public async Task A_token_is_worth_nothing_without_the_cookie_it_came_with()
    {
        var token = await shop.Client.GetStringAsync(new Uri("/antiforgery-token", UriKind.Relative));
        // Somebody who may, so that it is the token alone that is refused.
        using var other = await shop.BrowserOfAsync(PersonRole.Owner);
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri("/shop/prices.csv", UriKind.Relative)) { Content = new StringContent("kind,name,price\nfee,Slipped in,1\n") };
        request.Headers.Add("RequestVerificationToken", token);
        using var answer = await other.SendAsync(request);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    private Task<PriceAnswer> ImportAsync(string file) => ImportAsync(Encoding.UTF8.GetBytes(file));

    private async Task<PriceAnswer> ImportAsync(byte[] file)
    {
        using var content = new ByteArrayContent(file);
        using var request = await RequestAsync(content);
        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadFromJsonAsync<PriceAnswer>())!;
    }

    private async Task<HttpRequestMessage> RequestAsync(HttpContent content)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, new Uri("/shop/prices.csv", UriKind.Relative)) { Content = content };
        request.Headers.Add("RequestVerificationToken", await shop.Client.GetStringAsync(new Uri("/antiforgery-token", UriKind.Relative)));
        return request;
    }

    /// <summary>So many letters, without holding them.</summary>
    private sealed class Endless(long letters) : Stream
    {
        private long _left = letters;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count)
        {
            var some = (int)Math.Min(count, _left);
            Array.Fill(buffer, (byte)'x', offset, some);
            _left -= some;
            return some;
        }

        public override void Flush() => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
