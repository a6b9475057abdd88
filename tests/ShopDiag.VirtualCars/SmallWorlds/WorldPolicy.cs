using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>A way of choosing the next step in a small world.</summary>
internal interface IWorldPolicy
{
    /// <summary>The probability of what it holds proven in a state, or null while it goes on.</summary>
    double? Concludes(WorldState state);

    /// <summary>The step to take, or null when it has no more to say.</summary>
    int? Choose(WorldState state);
}

/// <summary>The steps in the order of a checklist, until something is proven.</summary>
internal sealed class ChecklistPolicy(WorldModel model) : IWorldPolicy
{
    public double? Concludes(WorldState state) => model.Proven(state);

    public int? Choose(WorldState state) => model.Available(state).First();
}

/// <summary>What the program advises: the first of its suggestions that is a step of the world.</summary>
internal sealed class ProgramPolicy(SmallWorld world, WorldModel model) : IWorldPolicy
{
    private readonly Dictionary<long, Assessment> _answers = [];

    /// <summary>States in which the first suggestion was no step of the world, with that suggestion in words.</summary>
    public SortedDictionary<string, string> PassedOver { get; } = new(StringComparer.Ordinal);

    public double? Concludes(WorldState state) => AssessmentAt(state) is { Conclusion: { } conclusion } answer
        ? answer.Causes.Where(c => conclusion.Causes.Contains(new ProvenCause(c.Cause, c.At))).Max(c => c.Probability)
        : null;

    public int? Choose(WorldState state)
    {
        var available = model.Available(state).ToArray();
        var next = AssessmentAt(state).Next;
        foreach (var advice in next)
        {
            var step = advice.Test is null ? -1 : world.Steps.IndexOf(new WorldStep(advice.Test, advice.At));
            if (available.Contains(step))
            {
                return step;
            }

            // A step of the world that is taken already: the world knows no second readings.
            if (step >= 0)
            {
                continue;
            }

            PassedOver.TryAdd(model.Words(state), advice.Test is null ? $"repair at {advice.At}" : $"{advice.Test} at {advice.At}");
        }

        return null;
    }

    /// <summary>The program's whole answer in a state.</summary>
    public Assessment AssessmentAt(WorldState state)
    {
        if (!_answers.TryGetValue(state.Code, out var answer))
        {
            _answers[state.Code] = answer = Diagnostician.Assess(model.WorkupAt(state), world.Knowledge);
        }

        return answer;
    }
}
