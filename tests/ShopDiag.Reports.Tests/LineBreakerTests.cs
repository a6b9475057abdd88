using CsCheck;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Tests;

public sealed class LineBreakerTests
{
    private static readonly Gen<string> Words = Gen.String[Gen.Char["abcWi  \n?é"], 0, 400];

    [Fact]
    public void Lines_joined_as_they_stand_are_the_text_again()
    {
        using var set = new Typesetter();
        Gen.Select(Words, Gen.Double[20, 500]).Sample(
            (text, width) => Assert.Equal(
                string.Join(' ', text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)),
                string.Concat(Break(text, width, set).SelectMany(l => l.Pieces).Select(p => p.Text))),
            threads: 1);
    }

    [Fact]
    public void No_line_is_wider_than_asked_but_for_the_blank_at_its_end()
    {
        using var set = new Typesetter();
        Gen.Select(Words, Gen.Double[20, 500]).Sample(
            (text, width) => Assert.All(Break(text, width, set), line => Assert.True(Width(line, set) <= width + 0.001)),
            threads: 1);
    }

    [Fact]
    public void Bold_and_regular_stretches_follow_each_other_on_one_line()
    {
        using var set = new Typesetter();
        var line = Assert.Single(LineBreaker.Break([new Run("Price:", Bold: true), new Run("ask at the counter.")], 10, 500, set));

        Assert.Equal(["Price: ", "ask at the counter."], line.Pieces.Select(p => p.Text));
        Assert.Equal([true, false], line.Pieces.Select(p => p.Face.Bold));
        Assert.Equal(set.Width("Price: ", new Face(10, Bold: true)), line.Pieces[1].X, 0.001);
    }

    [Fact]
    public void Several_blank_lines_become_one()
    {
        using var set = new Typesetter();

        Assert.Equal(["a ", "", "b"], Break("\n\na\n\n\n\nb\n\n", 100, set).Select(l => string.Concat(l.Pieces.Select(p => p.Text))));
    }

    [Theory]
    [InlineData("short", "short")]
    [InlineData("a name that is far too long for the foot of a page", "a name that i…")]
    public void A_running_head_is_cut_where_it_no_longer_fits(string text, string cut)
    {
        using var set = new Typesetter();

        Assert.Equal(cut, set.Cut(text, new Face(8, Bold: false), 54));
    }

    private static IReadOnlyList<Line> Break(string text, double width, Typesetter set) => LineBreaker.Break([new Run(text)], 10, width, set);

    private static double Width(Line line, Typesetter set) =>
        line.Pieces.Count == 0 ? 0 : line.Pieces[^1].X + set.Width(line.Pieces[^1].Text.TrimEnd(' '), line.Pieces[^1].Face);
}
