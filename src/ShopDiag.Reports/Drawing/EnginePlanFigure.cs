using PdfSharp.Drawing;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Drawing;

/// <summary>What the plan says of one cylinder.</summary>
/// <param name="Pattern">Its filling.</param>
/// <param name="Word">The word under it.</param>
internal sealed record PlanMark(FillPattern Pattern, string Word);

/// <summary>
/// The engine seen from above: cylinders as numbered circles where they stand, each with a pattern and a word, bank labels and
/// an arrow to the front. Where a word is wider than its cylinder's place, all words move into a key, to be set below the drawing.
/// </summary>
internal sealed class EnginePlanFigure : FigureBlock
{
    private const double WidestPitch = 54;
    private const double HighestPlan = 270;
    private const double Gutter = 62;
    private const double RadiusShare = 0.34;
    private static readonly Face WordFace = new(8.5, Bold: false);
    private static readonly Face LabelFace = new(8.5, Bold: true);
    private static readonly XPen Arrow = new(Style.Black, 1.2);

    private readonly EnginePlan _plan;
    private readonly Dictionary<int, PlanMark> _marks;
    private readonly double _pitch;
    private readonly bool _wordsFit;
    private readonly bool _wordless;

    /// <summary>Draws an engine; cylinders without a mark get the one given for the rest. With neither, the cylinders are drawn without words.</summary>
    public EnginePlanFigure(EnginePlan plan, IReadOnlyDictionary<int, PlanMark> marks, PlanMark? rest, Typesetter set, double width)
    {
        _plan = plan;
        _wordless = rest is null;
        var other = rest ?? new PlanMark(FillPattern.Blank, "");
        _marks = plan.Cylinders.ToDictionary(c => c.Cylinder, c => Printable(marks.GetValueOrDefault(c.Cylinder, other), set));
        _pitch = Math.Min(WidestPitch, Math.Min((width - Gutter) / plan.Width, HighestPlan / plan.Height));
        _wordsFit = !_wordless && _pitch >= 40 && _marks.Values.All(m => set.Width(m.Word, WordFace) <= _pitch - 2);
    }

    /// <summary>The words with the cylinders they belong to, in the order of the first of each; empty when they stand in the drawing.</summary>
    public IReadOnlyList<Run> Key => _wordsFit || _wordless ? [] : [.. _marks
        .GroupBy(m => m.Value.Word, m => m.Key)
        .SelectMany(group => new[]
        {
            new Run(group.Count() == 1 ? $"Cylinder {group.First()}:" : $"Cylinders {string.Join(", ", group)}:", Bold: true),
            new Run(group.Key + "."),
        })];

    /// <inheritdoc/>
    protected override double Height =>
        Math.Max((_plan.Height * _pitch) + 6, FrontY + 8); // The words of the last row hang below the plan's own height.

    /// <inheritdoc/>
    protected override string Alternative =>
        $"The engine seen from above, its front on the left. {_plan.InWords}."
        + (_wordless ? "" : " " + string.Join("; ", _marks.Select(m => $"cylinder {m.Key}: {m.Value.Word}")) + ".");

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        foreach (var cylinder in _plan.Cylinders)
        {
            PaintCylinder(sheet, cylinder, left + Gutter + (cylinder.X * _pitch), top + (cylinder.Y * _pitch) - (_wordsFit ? 4 : 0));
        }

        PaintBanks(sheet, left, top);
        PaintFront(sheet, left, top);
    }

    private void PaintCylinder(Sheet sheet, PlanCylinder cylinder, double x, double y)
    {
        var mark = _marks[cylinder.Cylinder];
        var radius = RadiusShare * _pitch;
        var number = new Face(Math.Clamp(Math.Round(radius * 0.65, 1, MidpointRounding.AwayFromZero), 5, 12), Bold: true);
        FillPatterns.Circle(sheet.Ink, mark.Pattern, x, y, radius);
        sheet.Ink.Circle(null, XBrushes.White, x, y, Math.Max(radius * 0.52, number.Size * 0.68));
        Centred(sheet, $"{cylinder.Cylinder}", number, x, y + (number.Size * 0.36));
        if (_wordsFit)
        {
            Centred(sheet, mark.Word, WordFace, x, y + radius + 1.5 + WordFace.Ascent);
        }
    }

    private void PaintBanks(Sheet sheet, double left, double top)
    {
        if (_plan.Banks < 2)
        {
            return;
        }

        foreach (var bank in _plan.Cylinders.GroupBy(c => c.Bank))
        {
            sheet.Ink.Text($"Bank {bank.Key}", LabelFace, Style.Black, left, top + (bank.First().Y * _pitch));
        }
    }

    // Level with the only row, or below the label of the last bank: between banks there may be no room for it.
    private double FrontY => _plan.Banks < 2
        ? 0.5 * _pitch
        : (_plan.Cylinders.Max(c => c.Y) * _pitch) + LabelFace.Leading + 2;

    /// <summary>An arrow to the left, where the engine's front is.</summary>
    private void PaintFront(Sheet sheet, double left, double top)
    {
        const double head = 3.5, length = 14;
        var y = top + FrontY;
        sheet.Ink.Line(Arrow, left, y, left + length, y);
        sheet.Ink.Line(Arrow, left, y, left + head, y - head);
        sheet.Ink.Line(Arrow, left, y, left + head, y + head);
        sheet.Ink.Text("front", WordFace, Style.Black, left + length + 4, y + 3);
    }

    private static PlanMark Printable(PlanMark mark, Typesetter set) =>
        mark with { Word = set.Printable.Of(mark.Word).Replace('\n', ' ').Trim() is { Length: > 0 } word ? word : "not tested" };
}
