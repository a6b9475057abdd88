using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class PhotoTests
{
    [Fact]
    public void Photos_stand_two_a_row_with_their_captions_below()
    {
        using var pdf = Read([SamplesOfMoney.Photos[0], SamplesOfMoney.Photos[1], SamplesOfMoney.Photos[0]]);
        var boxes = pdf.Pages.SelectMany(p => p.GetImages().Select(i => (p.Number, i.BoundingBox))).ToList();

        Assert.Equal(3, boxes.Count);
        Assert.Equal(boxes[0].BoundingBox.Top, boxes[1].BoundingBox.Top, 0.1);
        Assert.True(boxes[1].BoundingBox.Left > boxes[0].BoundingBox.Right);
        Assert.True(boxes[2].Number > boxes[0].Number || boxes[2].BoundingBox.Top < boxes[0].BoundingBox.Bottom);
        Assert.Contains("Top of the piston", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("1 Photos", pdf.Bookmarks);
    }

    [Fact]
    public void A_photo_keeps_its_shape()
    {
        using var pdf = Read([SamplesOfMoney.Photos[1]]);
        var box = Assert.Single(pdf.Pages.SelectMany(p => p.GetImages())).BoundingBox;

        Assert.Equal(180.0 / 320, box.Width / box.Height, 0.01);
    }

    [Fact]
    public void Each_photo_has_words_for_those_who_do_not_see_it()
    {
        using var pdf = Read(SamplesOfMoney.Photos.Add(new() { Picture = SamplesOfMoney.Picture("plug.jpg"), Marks = [new PhotoStroke([new(0.5, 0.5)])] }));

        Assert.Equal(
            [
                "Photo: Spark plug of cylinder 3: a dark track where the spark went astray. 2 spots are marked.", "Photo: Top of the piston.",
                "Photo that cannot be read: Cut off on its way.", "Photo. One spot is marked.",
            ],
            pdf.Root.Tagged("Figure").Select(f => f.Alternative!).Where(a => a.StartsWith("Photo", StringComparison.Ordinal)));
    }

    [Fact]
    public void Marks_are_drawn_over_the_photo_and_stay_on_it()
    {
        PhotoMark[] marks = [new PhotoCircle(new(0.95, 0.05), 0.4), new PhotoStroke([new(-3, 0.5), new(5, 7)])];
        using var plain = Read([SamplesOfMoney.Photos[0] with { Marks = [] }]);
        using var marked = Read([SamplesOfMoney.Photos[0] with { Marks = [.. marks] }]);
        var page = marked.Pages.Single(p => p.GetImages().Any());
        var photo = page.GetImages().Single().BoundingBox;
        var drawn = page.Paths.Where(path => path.StrokeColor is not null && path.LineWidth is > 1.9 and < 4.5 && path.GetBoundingRectangle() is { } b && b.Left >= photo.Left - 0.1 && b.Right <= photo.Right + 0.1).ToList();

        // A light line below and a dark one above, for each mark.
        Assert.Equal(4, marked.Pages.Sum(p => p.Paths.Count) - plain.Pages.Sum(p => p.Paths.Count));
        Assert.Equal(4, drawn.Count);
        Assert.All(drawn, path => Assert.InRange(path.GetBoundingRectangle()!.Value.Top, photo.Bottom, photo.Top + 0.1));
    }

    [Fact]
    public void What_is_no_picture_leaves_a_frame_that_says_so()
    {
        using var pdf = Read([SamplesOfMoney.Photos[2]]);

        Assert.Contains("This picture cannot be read.", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("Cut off on its way", pdf.Text, StringComparison.Ordinal);
        Assert.Empty(pdf.Pages.SelectMany(p => p.GetImages()));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    public void A_circle_without_a_size_is_a_broken_promise(double radius) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new PhotoCircle(new(0.5, 0.5), radius));

    private static ReadPdf Read(IEnumerable<PhotoOnPaper> photos) => new(Papers.CustomerReport(Samples.Simple with { Photos = [.. photos] }, PaperSize.Letter));
}
