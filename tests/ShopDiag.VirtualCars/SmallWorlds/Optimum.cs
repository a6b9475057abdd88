namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>The least expected minutes to a conclusion over all adaptive orders of tests: dynamic programming over everything that can have been read.</summary>
internal sealed class Optimum(WorldModel model)
{
    private readonly Dictionary<long, double> _least = [];

    /// <summary>How many states were worked out.</summary>
    public int States => _least.Count;

    /// <summary>Least expected minutes from a state on.</summary>
    public double From(WorldState state)
    {
        if (!_least.TryGetValue(state.Code, out var least))
        {
            least = model.Proven(state) is not null ? 0
                : model.IsHopeless(state) ? SmallWorld.Unresolved
                : model.Available(state).Min(s => Taking(state, s));
            _least[state.Code] = least;
        }

        return least;
    }

    /// <summary>Expected minutes when a step is taken now and the best ones after it.</summary>
    public double Taking(WorldState state, int step) =>
        model.Minutes(state, step) + model.After(state, step).Sum(next => next.Probability * From(next.State));

    /// <summary>The best step of a state in which something can still be proven.</summary>
    public int Best(WorldState state) => model.Available(state).MinBy(s => Taking(state, s));
}
