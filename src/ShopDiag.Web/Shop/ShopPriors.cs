using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Shop;

/// <summary>
/// The shop's own priors as they stood when a page was opened. They stay as they are while it is open: what is done to another car must not move the list under
/// a technician's finger.
/// </summary>
public sealed class ShopPriors
{
    private readonly ShopSettings _settings;
    private readonly ImmutableArray<CaseCount> _cases;
    private readonly Knowledge _knowledge;
    private (EngineFamily Family, LearnedPriors Priors)? _latest;

    private ShopPriors(ShopSettings settings, ImmutableArray<CaseCount> cases, Knowledge knowledge) => (_settings, _cases, _knowledge) = (settings, cases, knowledge);

    /// <summary>Counts the shop's cases, but for those of one order: a car is no reason to expect its own fault.</summary>
    public static async Task<ShopPriors> ReadAsync(CaseStore cases, ShopSettings settings, Knowledge knowledge, Guid except)
    {
        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(settings);
        return new(settings, settings.LearnFromCases ? await cases.CountAsync(except) : [], knowledge);
    }

    /// <summary>What the cases say of an engine; null while none is chosen, there are no cases, or the shop keeps the shipped priors.</summary>
    public LearnedPriors? For(EngineSpec? engine)
    {
        if (engine is null || _cases.IsEmpty)
        {
            return null;
        }

        var family = EngineFamily.Of(engine);
        if (_latest?.Family != family)
        {
            _latest = (family, PriorLearning.For(family, _cases, _knowledge));
        }

        return _latest.Value.Priors is { AllCases: > 0 } learned ? learned : null;
    }

    /// <summary>The shop as the reasoning on an engine sees it.</summary>
    public ShopSetup Setup(EngineSpec? engine) => _settings.ToSetup() with { PriorWeights = For(engine)?.Weights };
}
