using CsCheck;

namespace ShopDiag.Estimates.Tests;

public sealed class PriceCsvTests
{
    private static PriceImport Read(string text) => PriceCsv.Read(new StringReader(text), "USD");

    private static string Write(params PriceEntry[] entries)
    {
        var text = new StringWriter();
        PriceCsv.Write(text, new(entries), "USD");
        return text.ToString();
    }

    [Fact]
    public void Rows_that_cannot_be_read_are_named_and_the_rest_goes_in()
    {
        var import = Read("Kind,Name,Price,Minutes\npart,Spark plug,12.50,\ngift,Cake,3,\npart,Coil,twelve,\npart,,5,\nlabor,Ignition coil failed,,25\nfee,Disposal,,\n");
        Assert.Equal(["Spark plug", "Ignition coil failed"], import.Entries.Select(e => e.Name));
        Assert.Equal(["line 3", "line 4", "line 5", "line 7"], import.Refused.Select(r => r.At));
        Assert.Contains("gift", import.Refused[0].Message, StringComparison.Ordinal);
        Assert.Contains("price", import.Refused[1].Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("kind;name;price\npart;Coil;64.00\n")]
    [InlineData("kind\tname\tprice\r\npart\tCoil\t64\r\n")]
    [InlineData("\uFEFFname,price,kind\nCoil,64.00,PART\n")]
    [InlineData("kind,name,price\npart,\"Coil\",\"64.00\"\n\n")]
    public void Other_separators_line_ends_and_orders_of_columns_are_read(string text)
    {
        var import = Read(text);
        Assert.Empty(import.Refused);
        Assert.Equal(6400, Assert.Single(import.Entries).PriceMinor);
    }

    [Theory]
    [InlineData("")]
    [InlineData("just words")]
    [InlineData("name,price\nCoil,64\n")]
    public void A_file_without_the_columns_says_which_are_needed(string text) => Assert.Contains("kind", Assert.Single(Read(text).Refused).Message, StringComparison.Ordinal);

    [Fact]
    public void A_cell_that_a_spreadsheet_would_run_is_made_harmless_and_comes_back()
    {
        var entry = new PriceEntry { Kind = LineKind.Part, Name = "=HYPERLINK(1)", PriceMinor = 100, Vendor = "+1 Parts", PartNumber = "-44" };
        var text = Write(entry);
        Assert.DoesNotContain(",=", text, StringComparison.Ordinal);
        Assert.DoesNotContain(",-", text, StringComparison.Ordinal);
        Assert.Equal(entry, Assert.Single(Read(text).Entries));
    }

    [Fact]
    public void Out_and_in_again_is_the_same() => (
        from kind in Gen.Enum<LineKind>()
        from name in Gen.String[Gen.Char["aB \"',;=+-@\u00E9\u03A9"], 1, 12]
        from vendor in Gen.String[Gen.Char["aB \",;\n"], 0, 8]
        from price in Gen.Long[0, 1_000_000]
        from minutes in Gen.Int[0, 600]
        from every in Gen.Bool
        select new PriceEntry
        {
            Kind = kind, Name = "x" + name.Trim(), Vendor = vendor.Trim(), PriceMinor = price, Minutes = kind == LineKind.Labour ? minutes : null, EveryOrder = every && kind == LineKind.Fee,
        }).Sample(entry =>
    {
        var import = Read(Write(entry));
        Assert.Empty(import.Refused);
        Assert.Equal(entry, Assert.Single(import.Entries));
    });

    [Fact]
    public void No_text_at_all_makes_it_fall() => Gen.String.Sample(text => Assert.NotNull(Read("kind,name,price\n" + text)), iter: 20_000);
}
