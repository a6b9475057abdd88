using System.Collections.Immutable;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.TroubleCodes;

/// <summary>
/// Turns codes read at the engine into findings on the cylinders and banks that they name. A kind of code speaks of the places
/// it does not name only when it names another: that no such code is stored at all says little.
/// </summary>
internal sealed class TroubleCodesEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "trouble-codes";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        ImmutableArray<TroubleCode> codes = [.. input.Readings.Values
            .SelectMany(trials => trials.Words("codes"))
            .Select(TroubleCode.Parse)
            .Where(p => p.IsValid)
            .Select(p => p.Value)
            .Distinct()
            .OrderBy(c => c.Text, StringComparer.Ordinal)];
        return
        [
            .. Misfires(input, codes),
            .. Cylinders(input, "codes-coil", codes.SelectMany(c => c.CoilCylinders(input.Engine).Select(n => (n, c))), c => CoilWords(input, c)),
            .. Cylinders(input, "codes-injector", codes.Where(c => c.InjectorCylinder is not null).Select(c => (c.InjectorCylinder!.Value, c)), Quote),
            .. Mixtures(input, codes),
            .. Random(input, codes),
            .. Systems(input, codes),
            .. Cams(input, codes),
        ];
    }

    private static IEnumerable<Finding> Misfires(EvaluationInput input, ImmutableArray<TroubleCode> codes)
    {
        var findings = Cylinders(input, "codes-misfire", codes.Where(c => c.MisfireCylinder is not null).Select(c => (c.MisfireCylinder!.Value, c)), Quote);

        // With P0300 the computer counts misfires that it cannot place, so no cylinder is cleared.
        return codes.Any(c => c.IsRandomMisfire) ? findings.Where(f => f.Outcome == "coded") : findings;
    }

    private static IEnumerable<Finding> Cylinders(
        EvaluationInput input, string aspect, IEnumerable<(int Cylinder, TroubleCode Code)> named, Func<TroubleCode, string> says)
    {
        var byCylinder = named.Where(n => n.Cylinder <= input.Engine.CylinderCount).ToLookup(n => n.Cylinder, n => n.Code);
        if (byCylinder.Count == 0)
        {
            return [];
        }

        var others = string.Join(", ", byCylinder.Select(g => g.Key).Order().Select(n => Words.Number(n)));
        return input.Engine.Cylinders.Select(n => byCylinder.Contains(n)
            ? input.Finding(Place.Cylinder(n), "coded", string.Join(" ", byCylinder[n].Select(says)), aspect: aspect)
            : input.Finding(Place.Cylinder(n), "not-coded", $"Such codes name cylinder {others}, not this one.", aspect: aspect));
    }

    private static IEnumerable<Finding> Mixtures(EvaluationInput input, ImmutableArray<TroubleCode> codes)
    {
        var byBank = codes
            .Where(c => c.BankMixture is not null)
            .Select(c => (Bank: EngineBank(input, c.BankMixture!.Value.Bank), c.BankMixture.Value.Mixture, Code: c))
            .Where(c => c.Bank is not null)
            .ToLookup(c => c.Bank!.Value);
        return byBank.Count == 0 ? [] : Enumerable.Range(1, input.Engine.Banks.Length).Select(bank => Mixed(input, bank, [.. byBank[bank].Select(c => (c.Mixture, c.Code))]));
    }

    private static Finding Mixed(EvaluationInput input, int bank, ImmutableArray<(Mixture Mixture, TroubleCode Code)> codes)
    {
        var quoted = string.Join(" ", codes.Select(c => Quote(c.Code)));
        var (outcome, because) = codes.Select(c => c.Mixture).Distinct().ToArray() switch
        {
            [] => ("none", "Mixture codes name the other bank, not this one."),
            [Mixture.Lean] => ("lean", quoted),
            [Mixture.Rich] => ("rich", quoted),
            _ => ((string?)null, $"{quoted} Lean and rich codes on one bank: see which comes back after clearing."),
        };
        return input.Finding(Place.Bank(bank), outcome, because, aspect: "codes-mixture");
    }

    private static IEnumerable<Finding> Random(EvaluationInput input, ImmutableArray<TroubleCode> codes)
    {
        if (codes.FirstOrDefault(c => c.IsRandomMisfire) is { } random)
        {
            yield return input.Finding(Place.Engine, "random", Quote(random), aspect: "codes-random");
        }
        else if (codes.Any(c => c.MisfireCylinder <= input.Engine.CylinderCount))
        {
            yield return input.Finding(Place.Engine, "none", "Misfire codes name single cylinders; no P0300 is stored.", aspect: "codes-random");
        }
    }

    // That no code is stored for a system says little: not every computer watches it.
    private static IEnumerable<Finding> Systems(EvaluationInput input, ImmutableArray<TroubleCode> codes) => codes
        .Where(c => c.SystemAspect is not null)
        .GroupBy(c => c.SystemAspect!)
        .Select(g => input.Finding(Place.Engine, "coded", string.Join(" ", g.Select(Quote)), aspect: g.Key));

    private static IEnumerable<Finding> Cams(EvaluationInput input, ImmutableArray<TroubleCode> codes) => codes
        .Select(c => (Code: c, Bank: c.CamBank is { } bank ? EngineBank(input, bank) : null))
        .Where(c => c.Bank is not null)
        .GroupBy(c => c.Bank!.Value, c => c.Code)
        .Select(g => input.Finding(Place.Bank(g.Key), "coded", string.Join(" ", g.Select(Quote)), aspect: "codes-cam"));

    /// <summary>
    /// The engine's bank for bank 1 or 2 of a code: bank 1 holds cylinder 1 (from memory; so agreed among makers). Null where the
    /// engine has no second bank or more than two, which codes do not tell apart.
    /// </summary>
    private static int? EngineBank(EvaluationInput input, int codeBank)
    {
        var engine = input.Engine;
        var first = engine.BankOf(1);
        return (codeBank, engine.Banks.Length) switch
        {
            (1, 1 or 2) => first,
            (2, 2) => 3 - first,
            _ => null,
        };
    }

    private static string CoilWords(EvaluationInput input, TroubleCode code)
    {
        var cylinders = code.CoilCylinders(input.Engine);
        return cylinders.Length == 1
            ? Quote(code)
            : $"{Quote(code)} Taken as the shared coil of cylinders {string.Join(" and ", cylinders.Select(n => Words.Number(n)))}; makers letter shared coils differently, so look it up.";
    }

    private static string Quote(TroubleCode code) => code.Words is { } words ? $"{code.Text}: {words}." : $"{code.Text}.";
}
