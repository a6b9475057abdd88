using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes a plain paper of words and tables.</summary>
internal static class FigureReportPaper
{
    /// <summary>The file's bytes.</summary>
    public static byte[] Write(FigureReport model, PaperSize size) =>
        PaperFile.Write(new PaperIdentity(model.Title, model.Title, model.Shop, model.Date, model.Culture), PageGeometry.Of(size), paper => Fill(paper, model));

    private static void Fill(PaperBuilder paper, FigureReport model)
    {
        paper.KeyValues([("Date", Wording.Date(model.Date, model.Culture))], single: true);
        paper.Paragraph(model.Introduction);
        foreach (var section in model.Sections)
        {
            paper.Section(section.Heading);
            paper.Paragraph(section.Words);
            foreach (var table in section.Tables)
            {
                FigureTables.Add(paper, table);
            }

            foreach (var chart in section.Charts)
            {
                paper.Add(new Paragraph([new Run(chart.Title, Bold: true)], paper.Set, paper.Width) { KeepWithNext = true, Before = 8 });
                paper.Add(new ChartFigure(chart, paper.Width, paper.Set) { Before = 4 });
            }
        }
    }
}
