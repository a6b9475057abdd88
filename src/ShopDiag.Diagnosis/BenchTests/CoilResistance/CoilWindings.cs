using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CoilResistance;

/// <summary>
/// The primaries or the secondaries of an engine's coils. The maker's figures decide where they are given; else the other coils, since coils of different
/// makes differ more than a fault does; a coil measured without others is held against the general range.
/// </summary>
internal sealed class CoilWindings
{
    private const string Meter = "coil-meter-ohm";
    private const string Spread = "coil-spread-percent";

    private readonly EvaluationInput _input;
    private readonly string _side;
    private readonly ImmutableArray<Winding> _all;
    private readonly ImmutableArray<Winding> _whole;
    private readonly double? _middle;

    public CoilWindings(EvaluationInput input, string side, ImmutableArray<Winding> windings)
    {
        (_input, _side, _all) = (input, side, windings);
        _whole = [.. windings.Where(w => w.Ohm < Limit("open") && w.Ohm >= Limit("short"))];
        _middle = _whole.Length >= 3 ? Robust.Median(_whole.Select(w => w.Ohm)) : null;
    }

    /// <summary>The finding on the winding of the coil at a place, or null where it was not measured.</summary>
    public Finding? Judge(Place at)
    {
        if (_all.FirstOrDefault(w => w.At == at) is not { } w)
        {
            return null;
        }

        var (outcome, rule, byDefault) = Rule(w.Ohm);
        return Rule(w.Lowest).Outcome != Rule(w.Highest).Outcome
            ? _input.Finding(at, null, $"{Side}: the trials lie between {Words.Ohm(w.Lowest)} and {Words.Ohm(w.Highest)}, on both sides of a limit. Clean the pins and take it again.", w.Ohm)
                with { TrialsDisagree = true }
            : _input.Finding(at, outcome, $"{Side} {w.InWords()}: {rule}.", w.Ohm) with { ByDefaultLimit = outcome is not null && byDefault };
    }

    private string Side => char.ToUpperInvariant(_side[0]) + _side[1..];

    private (string? Outcome, string Rule, bool ByDefault) Rule(double ohm)
    {
        if (ohm >= Limit("open"))
        {
            return ("open", $"from {Words.Ohm(Limit("open"))} the winding is open", !IsOwn("open"));
        }

        if (ohm < Limit("short"))
        {
            return ("shorted", $"below {Words.Ohm(Limit("short"))} the winding is shorted", !IsOwn("short"));
        }

        return (IsOwn("min") || IsOwn("max"), _middle) switch
        {
            (true, _) => ByMaker(ohm),
            (false, { } middle) => ByTheOthers(ohm, middle),
            _ => ByGeneralRange(ohm),
        };
    }

    private (string? Outcome, string Rule, bool ByDefault) ByMaker(double ohm) =>
        IsOwn("min") && ohm < Limit("min") ? ("out", $"below {Words.Ohm(Limit("min"))}, this engine's limit", false)
        : IsOwn("max") && ohm > Limit("max") ? ("out", $"above {Words.Ohm(Limit("max"))}, this engine's limit", false)
        : ("within", "within this engine's limits", false);

    private (string? Outcome, string Rule, bool ByDefault) ByTheOthers(double ohm, double middle)
    {
        var apart = Math.Max(middle * _input.Limits[Spread] / 100, _input.Limits[Meter]);
        if (2 * _whole.Count(w => Math.Abs(w.Ohm - middle) <= apart) <= _whole.Length)
        {
            return (null, $"the coils have no common value (from {Words.Ohm(_whole.Min(w => w.Ohm))} to {Words.Ohm(_whole.Max(w => w.Ohm))}), so none can be called the odd one. Enter the maker's figures", false);
        }

        var byDefault = !_input.Limits.IsOwn(Spread);
        var likeness = $"{Words.Ohm(apart)} of the coils' middle value, {Words.Ohm(middle)}";
        return Math.Abs(ohm - middle) > apart
            ? ("out", $"not within {likeness}, and no maker's figures are entered", byDefault)
            : ("within", $"within {likeness}{(InGeneralRange(ohm) ? "" : ", though outside the general range: another make")}", byDefault);
    }

    private (string? Outcome, string Rule, bool ByDefault) ByGeneralRange(double ohm)
    {
        var range = $"{Words.Ohm(Limit("min"))} to {Words.Ohm(Limit("max"))} (the general limit). Measure the other coils too or enter the maker's figures";
        return InGeneralRange(ohm) ? ("within", $"between {range}", true) : ("out", $"outside {range}", true);
    }

    private bool InGeneralRange(double ohm) => ohm >= Limit("min") && ohm <= Limit("max");

    private double Limit(string end) => _input.Limits[Id(end)];

    private bool IsOwn(string end) => _input.Limits.IsOwn(Id(end));

    private string Id(string end) => $"coil-{_side}-{end}-ohm";
}
