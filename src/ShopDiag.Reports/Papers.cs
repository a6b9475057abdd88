using ShopDiag.Reports.Models;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports;

/// <summary>
/// The papers that leave the shop, as tagged PDF with embedded fonts: a finished model in, the bytes of one file out.
/// Safe to call from several threads at once. The bytes differ from run to run (the format carries random ids); text and looks do not.
/// </summary>
public static class Papers
{
    /// <summary>What was found and what is proposed, for the owner of the car: plain words, the engine drawn, the readings, room to sign.</summary>
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
}
