using System.Text;
using ShopDiag.Web.Photos;
using SkiaSharp;

namespace ShopDiag.Web.Tests.Photos;

public sealed class PhotoPictureTests
{
    [Fact]
    public void What_a_telephone_writes_into_a_picture_is_gone_and_it_stands_upright()
    {
        var photo = Pictures.WithExif(Pictures.Quarters(4000, 3000), orientation: 6);
        Assert.True(Pictures.Holds(photo, "SECRETPHONE") && Pictures.Holds(photo, "SECRETCOMMENT") && Pictures.Holds(photo, "Exif"));

        var picture = PhotoPicture.Read(photo).Value;

        Assert.Equal((1200, 1600), (picture.Width, picture.Height));
        foreach (var jpeg in new[] { picture.Full, picture.Small })
        {
            Assert.False(Pictures.Holds(jpeg, "SECRET"));
            Assert.False(Pictures.Holds(jpeg, "Exif"));
            // JFIF, tables and the frame; no application's segment but JFIF's own and no comment.
            Assert.DoesNotContain(Pictures.Segments(jpeg), kind => kind is (> 0xE0 and <= 0xEF) or 0xFE);
        }
    }

    [Theory]
    [InlineData(1, "TL TR BL BR")]
    [InlineData(2, "TR TL BR BL")]
    [InlineData(3, "BR BL TR TL")]
    [InlineData(4, "BL BR TL TR")]
    [InlineData(5, "TL BL TR BR")]
    [InlineData(6, "BL TL BR TR")]
    [InlineData(7, "BR TR BL TL")]
    [InlineData(8, "TR BR TL BL")]
    public void However_a_camera_was_held_the_picture_stands_upright(ushort orientation, string corners)
    {
        var picture = PhotoPicture.Read(Pictures.WithExif(Pictures.Quarters(300, 200), orientation)).Value;
        Assert.Equal(orientation > 4 ? (200, 300) : (300, 200), (picture.Width, picture.Height));
        Assert.Equal(corners, Corners(picture.Full));
        Assert.Equal(corners, Corners(picture.Small));
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg)]
    [InlineData(SKEncodedImageFormat.Png)]
    [InlineData(SKEncodedImageFormat.Webp)]
    public void All_three_formats_become_JPEG_of_the_two_sizes(SKEncodedImageFormat format)
    {
        var picture = PhotoPicture.Read(Pictures.Quarters(3000, 1000, format)).Value;
        Assert.Equal((PhotoPicture.LongestSide, 533), (picture.Width, picture.Height));
        Assert.Equal([0xFF, 0xD8], picture.Full[..2]);
        Assert.Equal("TL TR BL BR", Corners(picture.Full));
        using var small = SKBitmap.Decode(picture.Small);
        Assert.Equal((PhotoPicture.SmallSide, 107), (small.Width, small.Height));
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1600, 1200)]
    [InlineData(1601, 1)]
    [InlineData(1, 9000)]
    [InlineData(1999, 1500)]
    [InlineData(7000, 5700)]
    public void Any_size_is_drawn_within_the_longest_side_and_none_is_made_larger(int width, int height)
    {
        var picture = PhotoPicture.Read(Pictures.Quarters(width, height)).Value;
        Assert.Equal(Math.Min(PhotoPicture.LongestSide, Math.Max(width, height)), Math.Max(picture.Width, picture.Height));
        Assert.InRange(picture.Width, 1, width);
        Assert.InRange(picture.Height, 1, height);
    }

    [Fact]
    public void What_is_transparent_is_white_as_paper()
    {
        using var drawn = SKBitmap.Decode(PhotoPicture.Read(Pictures.Transparent()).Value.Full);
        Assert.Equal(SKColors.White, drawn.GetPixel(20, 15));
    }

    [Theory]
    [InlineData("plain text in a file called photo.jpg")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>")]
    [InlineData("<html><script>alert(1)</script></html>")]
    [InlineData("GIF89a\u0001\0\u0001\0\0\0\0;")]
    [InlineData("")]
    public void What_is_no_picture_is_refused_by_its_content(string content) =>
        Assert.Contains("no JPEG, PNG or WebP", PhotoPicture.Read(Encoding.Latin1.GetBytes(content)).Error!.Message, StringComparison.Ordinal);

    [Fact]
    public void Formats_that_could_be_read_but_no_camera_makes_are_refused()
    {
        byte[] bmp = [(byte)'B', (byte)'M', 58, 0, 0, 0, 0, 0, 0, 0, 54, 0, 0, 0, 40, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 24, 0, 0, 0, 0, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 0];
        using var known = SKBitmap.Decode(bmp);
        Assert.NotNull(known);
        Assert.Contains("no JPEG, PNG or WebP", PhotoPicture.Read(bmp).Error!.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg)]
    [InlineData(SKEncodedImageFormat.Png)]
    [InlineData(SKEncodedImageFormat.Webp)]
    public void A_picture_that_was_cut_off_is_refused(SKEncodedImageFormat format)
    {
        var whole = Pictures.Quarters(800, 600, format);
        Assert.NotNull(PhotoPicture.Read(whole.AsSpan(0, whole.Length / 2)).Error);
    }

    [Fact]
    public void A_picture_that_says_it_is_huge_is_refused_before_a_pixel_is_made()
    {
        var bomb = Pictures.PngOfSize(30_000, 30_000);
        var before = GC.GetTotalAllocatedBytes();
        Assert.Contains("30000 x 30000 pixels; 40 million", PhotoPicture.Read(bomb).Error!.Message, StringComparison.Ordinal);
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 10_000_000);
    }

    [Fact]
    public void A_picture_of_a_thousand_scans_is_refused()
    {
        var refused = PhotoPicture.Read(Pictures.ManyScans(Pictures.Quarters(64, 64), 1000));
        Assert.Contains("like no camera's", refused.Error!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Damage_anywhere_in_a_file_is_an_answer_and_never_an_exception()
    {
        var random = new Random(7);
        foreach (var format in new[] { SKEncodedImageFormat.Jpeg, SKEncodedImageFormat.Png, SKEncodedImageFormat.Webp })
        {
            var good = Pictures.WithExif(Pictures.Quarters(64, 48, format), 6);
            for (var i = 0; i < 300; i++)
            {
                var bad = good.ToArray();
                for (var n = random.Next(1, 20); n > 0; n--)
                {
                    bad[random.Next(bad.Length)] = (byte)random.Next(256);
                }

                var read = PhotoPicture.Read(bad);
                Assert.True(read.IsValid ? read.Value.Full.Length > 0 : read.Error!.Message.Length > 0);
            }
        }
    }

    private static string Corners(byte[] jpeg)
    {
        using var drawn = SKBitmap.Decode(jpeg);
        var (x, y) = (drawn.Width / 4, drawn.Height / 4);
        return string.Join(' ', new[] { (x, y), (3 * x, y), (x, 3 * y), (3 * x, 3 * y) }.Select(p => Name(drawn.GetPixel(p.Item1, p.Item2))));
    }

    private static string Name(SKColor colour) => new (string Name, SKColor Colour)[]
    {
        ("TL", Pictures.TopLeft), ("TR", Pictures.TopRight), ("BL", Pictures.BottomLeft), ("BR", Pictures.BottomRight),
    }.MinBy(c => Math.Abs(c.Colour.Red - colour.Red) + Math.Abs(c.Colour.Green - colour.Green) + Math.Abs(c.Colour.Blue - colour.Blue)).Name;
}
