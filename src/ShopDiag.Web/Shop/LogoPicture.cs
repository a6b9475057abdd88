using ShopDiag.Diagnosis;
using ShopDiag.Web.Photos;
using SkiaSharp;

namespace ShopDiag.Web.Shop;

/// <summary>A logo from outside, drawn anew as small as paper needs it.</summary>
public static class LogoPicture
{
    /// <summary>Largest file that is taken, bytes.</summary>
    public const int LargestBytes = 5_000_000;

    /// <summary>Long side in pixels: the 110 points it takes on paper at 430 dots an inch.</summary>
    public const int LongestSide = 660;

    private const int Lossless = 100;

    /// <summary>Draws a JPEG, PNG or WebP anew as PNG on white, with nothing in it but pixels, or says why not.</summary>
    public static Parsed<byte[]> Read(ReadOnlySpan<byte> file) => PhotoPicture.Draw(file, LongestSide, image =>
    {
        using var data = image.Encode(SKEncodedImageFormat.Png, Lossless);
        return data.ToArray();
    });
}
