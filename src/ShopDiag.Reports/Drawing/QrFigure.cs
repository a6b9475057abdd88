using PdfSharp.Drawing;
using QRCoder;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Drawing;

/// <summary>A QR code (ISO/IEC 18004), its dark modules drawn as rectangles: sharp at any size, with nothing but this text in it.</summary>
internal sealed class QrFigure : FigureBlock
{
    /// <summary>The quiet zone that a reader needs on each side, in modules (ISO/IEC 18004, 5.3.8: four).</summary>
    public const int QuietZone = 4;

    private readonly string _text;
    private readonly double _side;

    /// <summary>A code of a text that must not be empty, with a side in points, quiet zone included.</summary>
    public QrFigure(string text, double side, Typesetter set)
    {
        // Level M restores 15 % of the code: a thumbprint of grease, not more, for a code as small as it can be.
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M, forceUtf8: true);
        Modules = [.. code.ModuleMatrix.Select(row => row.Cast<bool>().ToArray())];
        _text = set.Printable.OfTitle(text);
        _side = side;
    }

    /// <summary>Rows of modules from the top, true for dark, quiet zone included.</summary>
    public IReadOnlyList<bool[]> Modules { get; }

    /// <inheritdoc/>
    protected override double Height => _side;

    /// <inheritdoc/>
    protected override string Alternative => $"QR code: {_text}";

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        var module = _side / Modules.Count;
        for (var row = 0; row < Modules.Count; row++)
        {
            foreach (var (first, count) in DarkRuns(Modules[row]))
            {
                sheet.Ink.Rectangle(null, XBrushes.Black, left + (first * module), top + (row * module), count * module, module);
            }
        }
    }

    /// <summary>Dark modules beside each other as one rectangle, which saves nine tenths of them and the seams between.</summary>
    private static IEnumerable<(int First, int Count)> DarkRuns(bool[] row)
    {
        for (var x = 0; x < row.Length; x++)
        {
            var first = x;
            while (x < row.Length && row[x])
            {
                x++;
            }

            if (x > first)
            {
                yield return (first, x - first);
            }
        }
    }
}
