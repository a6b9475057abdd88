namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>What a policy comes to in a small world, exactly: every outcome of every step it takes is counted out.</summary>
/// <param name="Minutes">Expected bench minutes to a conclusion, with <see cref="SmallWorld.Unresolved"/> where there is none.</param>
/// <param name="Right">Probability that it concludes on what is really wrong.</param>
/// <param name="Wrong">Probability that it concludes on something else.</param>
/// <param name="Visits">Every state in which it took a step, with the chance of coming there, the step, and whether the step was its own choice.</param>
internal sealed record PolicyRun(double Minutes, double Right, double Wrong, IReadOnlyList<Visit> Visits)
{
    /// <summary>Plays a policy through.</summary>
    public static PolicyRun Of(WorldModel model, IWorldPolicy policy)
    {
        var visits = new Dictionary<long, Visit>();
        var (minutes, right, wrong) = (0.0, 0.0, 0.0);
        Go(model.Start, 1);
        return new PolicyRun(minutes, right, wrong, [.. visits.Values]);

        void Go(WorldState state, double reach)
        {
            if (policy.Concludes(state) is { } probability)
            {
                right += reach * probability;
                wrong += reach * (1 - probability);
                return;
            }

            if (model.IsHopeless(state))
            {
                minutes += reach * SmallWorld.Unresolved;
                return;
            }

            // Where a policy falls silent while something can still be proven, the rest is taken in the checklist's order.
            var chosen = policy.Choose(state);
            var step = chosen ?? model.Available(state).First();
            minutes += reach * model.Minutes(state, step);
            visits[state.Code] = visits.TryGetValue(state.Code, out var before)
                ? before with { Reach = before.Reach + reach }
                : new Visit(state, reach, step, chosen is null);
            foreach (var (p, next) in model.After(state, step))
            {
                Go(next, reach * p);
            }
        }
    }
}

/// <summary>A state in which a policy took a step.</summary>
/// <param name="State">The state.</param>
/// <param name="Reach">Probability of coming there.</param>
/// <param name="Step">The step taken.</param>
/// <param name="Silent">True when the policy had nothing to say there.</param>
internal sealed record Visit(WorldState State, double Reach, int Step, bool Silent);
