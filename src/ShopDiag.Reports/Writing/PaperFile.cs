using System.Globalization;
using PdfSharp.Pdf;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>What a paper is called in its file and on its later pages, and what stands at its head.</summary>
/// <param name="Title">Title of the document.</param>
/// <param name="Heading">The paper's own heading, below the shop's name.</param>
/// <param name="Shop">Author of the document, its head and its foot.</param>
/// <param name="Date">Date of the document: the file carries no other time.</param>
/// <param name="Culture">Gives the language of its words.</param>
/// <param name="QrText">Text of the code at its head; empty for none.</param>
internal sealed record PaperIdentity(string Title, string Heading, ShopOnPaper Shop, DateOnly Date, CultureInfo Culture, string QrText = "");

/// <summary>Writes papers as files.</summary>
internal sealed class PaperFile : IDisposable
{
    private const double RoomyQrSide = 62;
    private const double LogoWidth = 110;
    private const double LogoHeight = 48;
    private const string SubstitutedRemark = "Some characters of the text cannot be printed in this typeface; each is shown as a question mark.";

    private readonly PageGeometry _page;
    private readonly PaperIdentity _identity;
    private readonly Furniture _furniture;
    private readonly Typesetter _set;
    private readonly PaperBuilder _paper;
    private readonly Picture? _logo;
    private readonly int _pages;

    private PaperFile(PaperIdentity identity, PageGeometry page, Look look, PictureShelf pictures, Action<PaperBuilder> fill)
    {
        (_identity, _page, _set) = (identity, page, new Typesetter(look));
        _furniture = new Furniture($"{identity.Title}  |  {identity.Shop.Name}", string.Join("  |  ", Said(identity.Shop.Name, identity.Shop.Phone)));
        _paper = new PaperBuilder(_set, pictures, page.TextWidth);
        _logo = pictures.Read(identity.Shop.Logo);
        AddLetterhead();
        fill(_paper);
        if (_set.Printable.Substituted > 0)
        {
            _paper.Add(new Paragraph([new Run(SubstitutedRemark)], _set, _paper.Width, look.Table));
        }

        _pages = Flow.Draw(_paper.Blocks, new Sheet(page, new NoInk(), _set, _furniture, pageCount: null));
    }

    /// <summary>The bytes of the paper that an action fills: in the usual look, or set tighter where that saves a page.</summary>
    public static byte[] Write(PaperIdentity identity, PageGeometry page, Action<PaperBuilder> fill)
    {
        using var pictures = new PictureShelf();
        using var roomy = new PaperFile(identity, page, Look.Roomy, pictures, fill);
        if (roomy._pages == 1)
        {
            return roomy.Bytes();
        }

        using var tight = new PaperFile(identity, page, Look.Tight, pictures, fill);
        return (tight._pages < roomy._pages ? tight : roomy).Bytes();
    }

    /// <inheritdoc/>
    public void Dispose() => _set.Dispose();

    private byte[] Bytes()
    {
        using var document = new PdfDocument();
        Describe(document);
        using (var ink = new PdfInk(document, _set, Wording.Language(_identity.Culture)))
        {
            Flow.Draw(_paper.Blocks, new Sheet(_page, ink, _set, _furniture, _pages));
        }

        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    /// <summary>Logo; name, address and the paper's heading; the code at the right edge.</summary>
    private void AddLetterhead()
    {
        var columns = new List<(double Share, Action<PaperBuilder> Fill)>();
        var qr = RoomyQrSide * (0.5 + (0.5 * _set.Look.Gaps));
        var (logoShare, qrShare) = (_logo is null ? 0 : LogoWidth / _page.TextWidth, _identity.QrText.Length == 0 ? 0 : qr / _page.TextWidth);
        if (_logo is not null)
        {
            var name = _set.Printable.OfTitle(_identity.Shop.Name);
            columns.Add((logoShare, head => head.Add(new LogoFigure(_logo, name, Math.Min(LogoWidth, head.Width), LogoHeight))));
        }

        columns.Add((1 - logoShare - qrShare, AddNames));
        if (_identity.QrText.Length > 0)
        {
            columns.Add((qrShare, head => head.Add(new QrFigure(_identity.QrText, Math.Min(qr, head.Width), _set))));
        }

        if (columns.Count > 1)
        {
            _paper.SideBySide(before: 0, [.. columns]);
        }
        else
        {
            AddNames(_paper);
        }

        _paper.Add(new RuleBlock());
    }

    private void AddNames(PaperBuilder head)
    {
        var shop = _identity.Shop;
        if (!string.IsNullOrWhiteSpace(shop.Name))
        {
            head.Add(new Paragraph([new Run(shop.Name, Bold: true)], _set, head.Width, 13) { Before = 0 });
        }

        var address = string.Join(", ", shop.Address.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
        if (Said(address, shop.Phone) is { Count: > 0 } lines)
        {
            head.Add(new Paragraph([new Run(string.Join("  |  ", lines))], _set, head.Width, _set.Look.Table) { Before = 0 });
        }

        head.Title(_identity.Heading);
    }

    private void Describe(PdfDocument document)
    {
        document.Info.Title = _set.Printable.OfTitle(_identity.Title);
        document.Info.Author = _set.Printable.OfTitle(_identity.Shop.Name);
        document.Info.Creator = "ShopDiag";
        document.Info.CreationDate = _identity.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
    }

    private static List<string> Said(params string[] texts) => [.. texts.Where(t => !string.IsNullOrWhiteSpace(t))];
}
