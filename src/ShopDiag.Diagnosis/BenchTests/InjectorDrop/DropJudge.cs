using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests.PowerBalance;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.InjectorDrop;

/// <summary>Judges the injectors of one round against their average. Pressures in kilopascal.</summary>
internal sealed class DropJudge
{
    private const string Window = "injector-drop-window-kpa";
    private const string StartPercent = "injector-drop-start-percent";

    private readonly EvaluationInput _input;
    private readonly ImmutableArray<PulseDrop> _fair;
    private readonly double _start;
    private readonly double _average;
    private readonly double _window;

    public DropJudge(EvaluationInput input, ImmutableArray<PulseDrop> run)
    {
        (_input, _window) = (input, input.Limits[Window]);
        _start = Robust.Median(run.Select(d => d.Start));
        _fair = [.. run.Where(IsFair)];

        // Sorted, so that numbering the injectors otherwise does not change the last digit.
        _average = _fair.IsEmpty ? 0 : _fair.Select(d => d.KPa).Order().Average();
    }

    public Finding Judge(PulseDrop drop)
    {
        if (drop.KPa < 0)
        {
            return Found(drop, null, $"The pressure rose by {Words.Pressure(-drop.KPa)}: a pulse cannot do that. See whether before and after were exchanged, or the pump ran.");
        }

        if (!IsFair(drop))
        {
            return Found(drop, null, $"Started from {Words.Pressure(drop.Start)} while the others started near {Words.Pressure(_start)}: drops from different pressures cannot be compared. Take it again from the same pressure.");
        }

        if (_fair.Length < Math.Max(2, BalanceRules.FewestCylinders(_input.Engine.CylinderCount)))
        {
            return Found(drop, null, $"{Fall(drop)}. One drop says little by itself: measure the other injectors too.");
        }

        return _average <= _window
            ? Found(drop, null, $"{Fall(drop)}, and the average is {Words.Pressure(_average)}: too small a drop for differences of {Words.Pressure(_window)} to show. Use a longer pulse and take the round again.")
            : Compare(drop);
    }

    private Finding Compare(PulseDrop drop)
    {
        if (Side(drop.Least) != Side(drop.Most))
        {
            return Found(drop, null, $"The trials fall by {Words.Pressure(drop.Least)} to {Words.Pressure(drop.Most)}, on both sides of {Rule}. Run the engine in between and take it again.")
                with { TrialsDisagree = true };
        }

        var side = Side(drop.KPa);
        if (side != 0 && _fair.Length < 3)
        {
            return Found(drop, null, $"{Fall(drop)}: outside {Rule}; but with two injectors it cannot be told which of them is wrong.");
        }

        var others = Robust.Median(_fair.Where(o => o != drop).Select(o => o.KPa));
        if (side != 0 && Math.Abs(drop.KPa - others) <= _window)
        {
            return Found(drop, null, $"{Fall(drop)}: outside {Rule}; but one extreme injector has pulled that average, and the middle of the others is {Words.Pressure(others)}. Put the extreme one right, then take the round again.");
        }

        return side switch
        {
            > 0 => Found(drop, "high-delivery", $"{Fall(drop)}: above {Rule}."),
            < 0 => Found(drop, "low-delivery", $"{Fall(drop)}: below {Rule}."),
            _ => Found(drop, "even", $"{Fall(drop)}: within {Rule}."),
        };
    }

    private string Rule =>
        $"{Words.Number(_average - _window)} to {Words.Number(_average + _window)} kPa, which is {Words.Number(_window)} kPa ({_input.Whose(Window)}) either way of the average {Words.Pressure(_average)}, GM's rule";

    private int Side(double kPa) => kPa > _average + _window ? 1 : kPa < _average - _window ? -1 : 0;

    private bool IsFair(PulseDrop drop) => drop.KPa >= 0 && Math.Abs(drop.Start - _start) <= _start * _input.Limits[StartPercent] / 100;

    private Finding Found(PulseDrop drop, string? outcome, string because) =>
        _input.Finding(drop.At, outcome, because, drop.KPa) with { ByDefaultLimit = outcome is not null && !_input.Limits.IsOwn(Window) };

    private static string Fall(PulseDrop drop) => $"The pressure fell by {Words.Pressure(drop.KPa)}";
}
