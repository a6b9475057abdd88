using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using SkiaSharp;

namespace ShopDiag.Web.Tests.Photos;

/// <summary>Pictures made by hand: good ones and those that someone might send to do harm.</summary>
internal static class Pictures
{
    public static readonly SKColor TopLeft = SKColors.Red;
    public static readonly SKColor TopRight = SKColors.Lime;
    public static readonly SKColor BottomLeft = SKColors.Blue;
    public static readonly SKColor BottomRight = SKColors.Yellow;

    /// <summary>A picture whose four quarters have colours of their own.</summary>
    public static byte[] Quarters(int width, int height, SKEncodedImageFormat format = SKEncodedImageFormat.Jpeg)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        using (var paint = new SKPaint())
        {
            var (x, y) = (width / 2f, height / 2f);
            foreach (var (left, top, colour) in new[] { (0f, 0f, TopLeft), (x, 0f, TopRight), (0f, y, BottomLeft), (x, y, BottomRight) })
            {
                paint.Color = colour;
                canvas.DrawRect(left, top, x, y, paint);
            }
        }

        using var data = bitmap.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>A transparent PNG.</summary>
    public static byte[] Transparent()
    {
        using var bitmap = new SKBitmap(new SKImageInfo(40, 30, SKColorType.Rgba8888, SKAlphaType.Premul));
        bitmap.Erase(SKColors.Transparent);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>The same JPEG with what a telephone writes into it: how it was held (Exif, tag 274), which telephone it was, and where it stood.</summary>
    public static byte[] WithExif(byte[] jpeg, ushort orientation)
    {
        var tiff = Tiff(orientation, "SECRETPHONE 7\0"u8);
        var segment = new byte[4 + 6 + tiff.Length];
        (segment[0], segment[1]) = (0xFF, 0xE1);
        BinaryPrimitives.WriteUInt16BigEndian(segment.AsSpan(2), (ushort)(segment.Length - 2));
        "Exif\0\0"u8.CopyTo(segment.AsSpan(4));
        tiff.CopyTo(segment, 10);
        byte[] comment = [0xFF, 0xFE, 0, 2 + 13, .. "SECRETCOMMENT"u8];
        return [.. jpeg[..2], .. segment, .. comment, .. jpeg[2..]];
    }

    /// <summary>A JPEG of many scans over all pixels.</summary>
    public static byte[] ManyScans(byte[] jpeg, int scans) => [.. jpeg[..^2], .. Enumerable.Repeat<byte[]>([0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0], scans).SelectMany(s => s), 0xFF, 0xD9];

    /// <summary>A PNG that says it has a size, and holds hardly a pixel.</summary>
    public static byte[] PngOfSize(int width, int height)
    {
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (8, 6);
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            zlib.Write(new byte[1000]);
        }

        return [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, .. Chunk("IHDR", header), .. Chunk("IDAT", packed.ToArray()), .. Chunk("IEND", [])];
    }

    /// <summary>True when the bytes hold a text.</summary>
    public static bool Holds(byte[] bytes, string text) => bytes.AsSpan().IndexOf(Encoding.ASCII.GetBytes(text)) >= 0;

    /// <summary>The kinds of segments of a JPEG before its first scan, such as E0 for APP0.</summary>
    public static List<byte> Segments(byte[] jpeg)
    {
        var kinds = new List<byte>();
        for (var at = 2; jpeg[at + 1] != 0xDA; at += 2 + BinaryPrimitives.ReadUInt16BigEndian(jpeg.AsSpan(at + 2)))
        {
            Assert.Equal(0xFF, jpeg[at]);
            kinds.Add(jpeg[at + 1]);
        }

        return kinds;
    }

    // Big-endian TIFF: the camera's model and the way it was held in the first directory, latitude and longitude in that of GPS.
    private static byte[] Tiff(ushort orientation, ReadOnlySpan<byte> model)
    {
        const int First = 8, Gps = First + 2 + (3 * 12) + 4, Data = Gps + 2 + (4 * 12) + 4;
        var tiff = new byte[Data + 48 + model.Length];
        var span = tiff.AsSpan();
        var at = First + 2;
        "MM\0*"u8.CopyTo(span);
        BinaryPrimitives.WriteUInt32BigEndian(span[4..], First);
        BinaryPrimitives.WriteUInt16BigEndian(span[First..], 3);
        Entry(span, ref at, 0x0110, 2, (uint)model.Length, Data + 48);
        Entry(span, ref at, 0x0112, 3, 1, (uint)orientation << 16);
        Entry(span, ref at, 0x8825, 4, 1, Gps);
        BinaryPrimitives.WriteUInt16BigEndian(span[Gps..], 4);
        at = Gps + 2;
        Entry(span, ref at, 1, 2, 2, (uint)'N' << 24);
        Entry(span, ref at, 2, 5, 3, Data);
        Entry(span, ref at, 3, 2, 2, (uint)'W' << 24);
        Entry(span, ref at, 4, 5, 3, Data + 24);
        foreach (var (i, value) in new uint[] { 41, 1, 24, 1, 12, 1, 2, 1, 10, 1, 26, 1 }.Index())
        {
            BinaryPrimitives.WriteUInt32BigEndian(span[(Data + (4 * i))..], value);
        }

        model.CopyTo(span[(Data + 48)..]);
        return tiff;
    }

    private static void Entry(Span<byte> tiff, ref int at, ushort tag, ushort type, uint count, uint value)
    {
        BinaryPrimitives.WriteUInt16BigEndian(tiff[at..], tag);
        BinaryPrimitives.WriteUInt16BigEndian(tiff[(at + 2)..], type);
        BinaryPrimitives.WriteUInt32BigEndian(tiff[(at + 4)..], count);
        BinaryPrimitives.WriteUInt32BigEndian(tiff[(at + 8)..], value);
        at += 12;
    }

    private static byte[] Chunk(string kind, byte[] data)
    {
        byte[] named = [.. Encoding.ASCII.GetBytes(kind), .. data];
        var (length, sum) = (new byte[4], new byte[4]);
        BinaryPrimitives.WriteInt32BigEndian(length, data.Length);
        BinaryPrimitives.WriteUInt32BigEndian(sum, Crc(named));
        return [.. length, .. named, .. sum];
    }

    // ISO 3309, as PNG asks for (PNG specification, annex D).
    private static uint Crc(byte[] bytes)
    {
        var crc = uint.MaxValue;
        foreach (var b in bytes)
        {
            crc ^= b;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xEDB88320 : crc >> 1;
            }
        }

        return ~crc;
    }
}
