using PdfSharp.Drawing;

namespace ShopDiag.Reports.Drawing;

/// <summary>A JPEG or PNG picture to be drawn.</summary>
internal sealed class Picture : IDisposable
{
    private Picture(XImage image) => Image = image;

    /// <summary>The picture for PDFsharp.</summary>
    public XImage Image { get; }

    /// <summary>Height over width.</summary>
    public double Steepness => (double)Image.PixelHeight / Image.PixelWidth;

    /// <summary>Reads a picture; null when the bytes are none.</summary>
    public static Picture? Read(ReadOnlyMemory<byte> bytes)
    {
        if (!IsJpeg(bytes.Span) && !IsPng(bytes.Span))
        {
            return null;
        }

        try
        {
            var image = XImage.FromStream(new MemoryStream(bytes.ToArray()));
            return image.PixelWidth > 0 && image.PixelHeight > 0 ? new Picture(image) : null;
        }
        catch (Exception broken) when (broken is not OutOfMemoryException)
        {
            // A cut-off file makes the reader fail in whatever way its next byte leads to. A paper with a gap is worth more than none.
            return null;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Image.Dispose();

    private static bool IsJpeg(ReadOnlySpan<byte> bytes) => bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]);

    private static bool IsPng(ReadOnlySpan<byte> bytes) => bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
}
