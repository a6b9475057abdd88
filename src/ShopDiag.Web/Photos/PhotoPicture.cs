using System.Globalization;
using ShopDiag.Diagnosis;
using SkiaSharp;

namespace ShopDiag.Web.Photos;

/// <summary>
/// A picture from outside, drawn anew: upright, at most <see cref="LongestSide"/> long, as JPEG with nothing in it but pixels. Where a tablet stood, which it was and what else its camera
/// wrote does not get through, nor does anything that hides in a file beside its picture.
/// </summary>
/// <param name="Full">To look at, draw on and print.</param>
/// <param name="Small">To show beside a reading.</param>
/// <param name="Width">Width of the full picture in pixels.</param>
/// <param name="Height">Height of the full picture in pixels.</param>
public sealed record PhotoPicture(byte[] Full, byte[] Small, int Width, int Height)
{
    /// <summary>Largest file that is taken, bytes.</summary>
    public const int LargestBytes = 15_000_000;

    /// <summary>Most pixels a file may say that it holds: 160 MB once decoded.</summary>
    public const int MostPixels = 40_000_000;

    /// <summary>Long side of the full picture, pixels: 190 mm on paper at 210 dots an inch.</summary>
    public const int LongestSide = 1600;

    /// <summary>Long side of the small picture, pixels: two for each of the 160 it takes on a screen.</summary>
    public const int SmallSide = 320;

    /// <summary>Most scans of a progressive JPEG. Cameras and programs write about ten; every one goes over all pixels, and a small file can hold thousands.</summary>
    internal const int MostScans = 100;

    private const int Quality = 85;

    /// <summary>Draws a file anew, or says why not. What it is, is read from its content.</summary>
    public static Parsed<PhotoPicture> Read(ReadOnlySpan<byte> file) => Draw(file, LongestSide, full =>
    {
        using var small = Upright(full, SKEncodedOrigin.TopLeft, SmallSide);
        return new PhotoPicture(Jpeg(full), Jpeg(small), full.Width, full.Height);
    });

    /// <summary>Draws a file anew, upright and no longer than a number of pixels, and makes something of it; or says why not.</summary>
    internal static Parsed<T> Draw<T>(ReadOnlySpan<byte> file, int longest, Func<SKImage, T> make)
    {
        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data);
        if (codec?.EncodedFormat is not (SKEncodedImageFormat.Jpeg or SKEncodedImageFormat.Png or SKEncodedImageFormat.Webp))
        {
            return Refusal("It is no JPEG, PNG or WebP picture. Send one that is; cameras can be set to JPEG.");
        }

        if ((long)codec.Info.Width * codec.Info.Height > MostPixels)
        {
            return Refusal(string.Create(CultureInfo.InvariantCulture, $"It says it is {codec.Info.Width} x {codec.Info.Height} pixels; {MostPixels / 1_000_000} million are taken at most. Choose a smaller size on the camera."));
        }

        if (codec.EncodedFormat == SKEncodedImageFormat.Jpeg && file.Count(StartOfScan) > MostScans)
        {
            return Refusal("It is put together like no camera's picture. Send another.");
        }

        using var decoded = Decode(codec, longest);
        if (decoded is null)
        {
            return Refusal("It is damaged or was cut off. Send another.");
        }

        using var raw = SKImage.FromBitmap(decoded);
        using var upright = Upright(raw, codec.EncodedOrigin, longest);
        return make(upright);
    }

    // Within the data of a scan a byte FF is always followed by 00 or a restart marker (ITU-T T.81, B.1.1.5), so that this counts scans, and those of a preview beside them.
    private static ReadOnlySpan<byte> StartOfScan => [0xFF, 0xDA];

    private static InputError Refusal(string message) => new("", message);

    /// <summary>The pixels as they lie in the file; JPEG already reduced while it is decoded, which saves most of the memory. Null when they are not all there.</summary>
    private static SKBitmap? Decode(SKCodec codec, int longest)
    {
        var wanted = (float)longest / Math.Max(codec.Info.Width, codec.Info.Height);
        // The nearest eighth is decoded; half a one more makes it the next above, never one below.
        var size = codec.GetScaledDimensions(Math.Min(1, wanted + (1f / 16)));
        using var space = SKColorSpace.CreateSrgb();
        var bitmap = new SKBitmap(new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, space));
        if (!bitmap.IsNull && codec.GetPixels(bitmap.Info, bitmap.GetPixels()) == SKCodecResult.Success)
        {
            return bitmap;
        }

        bitmap.Dispose();
        return null;
    }

    private static SKImage Upright(SKImage image, SKEncodedOrigin origin, int longest)
    {
        var scale = Math.Min(1f, (float)longest / Math.Max(image.Width, image.Height));
        var (width, height) = (Side(image.Width * scale), Side(image.Height * scale));
        var lies = origin is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom or SKEncodedOrigin.LeftBottom;
        using var surface = SKSurface.Create(new SKImageInfo(lies ? height : width, lies ? width : height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        // What is transparent is paper.
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.SetMatrix(Turn(origin, width, height));
        surface.Canvas.DrawImage(image, SKRect.Create(width, height), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        return surface.Snapshot();
    }

    private static int Side(float length) => Math.Max(1, (int)MathF.Round(length, MidpointRounding.AwayFromZero));

    /// <summary>How the eight ways in which a camera can be held (Exif 2.32, tag 274) are turned upright; width and height as they lie in the file.</summary>
    private static SKMatrix Turn(SKEncodedOrigin origin, int width, int height) => origin switch
    {
        SKEncodedOrigin.TopLeft => SKMatrix.Identity,
        SKEncodedOrigin.TopRight => new(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => throw new InvalidOperationException($"Unknown origin {origin}."),
    };

    private static byte[] Jpeg(SKImage image)
    {
        using var data = image.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return data.ToArray();
    }
}
