using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Storage.Photos;

namespace ShopDiag.Storage.Tests.Photos;

public sealed class PhotoMarksTests
{
    [Theory]
    [InlineData("[]")]
    [InlineData("[[0,1]]")]
    [InlineData("[[0.25,0.5,0.262,0.51],[1,0.001]]")]
    public void Marks_come_back_as_the_very_text_that_was_sent(string text) => Assert.Equal(text, PhotoMarks.Write(PhotoMarks.Read(text).Value));

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData("[[]]")]
    [InlineData("[null]")]
    [InlineData("[[0.1]]")]
    [InlineData("[[0.1,0.2,0.3]]")]
    [InlineData("[[0.1,1.001]]")]
    [InlineData("[[-0.1,0.2]]")]
    [InlineData("[[1e999,0]]")]
    [InlineData("[[\"0\",\"0\"]]")]
    [InlineData("[[0.1,0.2]")]
    [InlineData("[[[0.1,0.2]]]")]
    public void What_are_no_marks_is_said_and_not_thrown(string text) => Assert.False(PhotoMarks.Read(text).IsValid);

    [Fact]
    public void A_text_of_the_longest_size_is_read_and_a_longer_one_refused()
    {
        var longest = "[[0,0" + new string(' ', PhotoMarks.LongestText - 7) + "]]";
        Assert.True(PhotoMarks.Read(longest).IsValid);
        Assert.False(PhotoMarks.Read(longest + " ").IsValid);
    }

    [Fact]
    public void Any_strokes_come_back_to_a_thousandth()
    {
        var point = Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], (x, y) => new PhotoPoint(x, y));
        Gen.Select(point, point.Array[0, 20], (first, more) => new PhotoStroke([first, .. more])).Array[0, 10].Sample(strokes =>
        {
            var text = PhotoMarks.Write(strokes);
            var back = PhotoMarks.Read(text).Value;
            Assert.Equal(strokes.Select(s => s.Points.Length), back.Select(s => s.Points.Length));
            Assert.All(strokes.SelectMany(s => s.Points).Zip(back.SelectMany(s => s.Points)), pair =>
            {
                Assert.Equal(pair.First.X, pair.Second.X, 0.000501);
                Assert.Equal(pair.First.Y, pair.Second.Y, 0.000501);
            });
            Assert.Equal(text, PhotoMarks.Write(back));
        });
    }

    [Fact]
    public void A_photo_without_marks_reads_as_none() => Assert.Equal(ImmutableArray<PhotoStroke>.Empty, PhotoMarks.Read(PhotoMarks.None).Value);
}
