using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Models;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports;

/// <summary>
/// The papers that leave the shop, as tagged PDF with embedded fonts: a finished model in, the bytes of one file out.
/// Safe to call from several threads at once. The bytes differ from run to run (the format carries random ids); text and looks do not.
/// </summary>
public static class Papers
{
    /// <summary>
    /// What was found and what is proposed, for the owner of the car: plain words, the engine drawn, the readings, photos, the estimate,
    /// room to sign or what was signed. A simple case takes one page.
    /// </summary>
    /// <exception cref="ArgumentNullException">No model.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A paper size that does not exist.</exception>
    public static byte[] CustomerReport(CustomerReport model, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(model);
        return CustomerReportPaper.Write(model, paper);
    }

    /// <summary>What to fetch and where it goes, for the parts counter: neither price nor anything personal of the customer.</summary>
    /// <exception cref="ArgumentNullException">No model.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A paper size that does not exist.</exception>
    public static byte[] PartsList(PartsList model, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(model);
        return PartsListPaper.Write(model, paper);
    }

    /// <summary>The cylinder sheet for the bench, blank or filled; lying on the long side for engines of more than six cylinders.</summary>
    /// <exception cref="ArgumentNullException">No model.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A paper size that does not exist.</exception>
    public static byte[] BenchSheet(BenchSheet model, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(model);
        return BenchSheetPaper.Write(model, paper);
    }

    /// <summary>Work and parts as done, what they cost, and the repair check that shows they helped.</summary>
    /// <exception cref="ArgumentNullException">No model.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A paper size that does not exist.</exception>
    public static byte[] Invoice(Invoice model, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(model);
        return InvoicePaper.Write(model, paper);
    }

    /// <summary>
    /// Whether a picture can be printed: a JPEG in colour or grey, or a PNG of up to 8 bits a channel. For asking before a logo or a photo is taken in.
    /// </summary>
    public static bool CanPrint(ReadOnlyMemory<byte> picture)
    {
        using var read = Picture.Read(picture);
        return read is not null;
    }

    /// <summary>Sections of words and tables, for the owner.</summary>
    /// <exception cref="ArgumentNullException">No model.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A paper size that does not exist.</exception>
    public static byte[] FigureReport(FigureReport model, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(model);
        return FigureReportPaper.Write(model, paper);
    }
}
