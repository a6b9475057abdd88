using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Writing;

/// <summary>Adds the drawing of an engine to a paper.</summary>
internal static class EngineBlocks
{
    /// <summary>Adds the drawing (without words where there is no mark for the rest) and, where the words do not fit in, the key below it.</summary>
    public static void AddPlan(PaperBuilder paper, Engine engine, IReadOnlyDictionary<int, PlanMark> marks, PlanMark? rest)
    {
        var figure = new EnginePlanFigure(EnginePlan.Of(engine), marks, rest, paper.Set, paper.Width) { Before = 6, KeepWithNext = true };
        paper.Add(figure);
        if (figure.Key.Count > 0)
        {
            paper.Add(new Paragraph(figure.Key, paper.Set, paper.Width, paper.Set.Look.Table));
        }
    }
}
