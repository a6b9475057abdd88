using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Decisions;
using ShopDiag.VirtualCars.SmallWorlds;

namespace ShopDiag.VirtualCars.Tests.SmallWorlds;

/// <summary>
/// Where each cause has one test that proves it without fail, the least expected minutes are the expected cost of repair of the p/C order (Kadane and Simon 1977; Ottosen
/// and Jensen 2010), and the program must take the tests in that order.
/// </summary>
public sealed class PublishedOrderTests
{
    /// <summary>D29: S. Ross, A First Course in Probability; D30a to c: constructed, by brute force (facts 10.2).</summary>
    public static TheoryData<string, double[], double[], double> Examples => new()
    {
        { "D29", [.3, .7], [10, 40], 10 + (.7 * 40) },
        { "D30a", [.5, .3, .2], [100, 20, 10], 76 },
        { "D30b", [.35, .30, .15, .10, .10], [20, 10, 25, 15, 60], 41.50 },
        { "D30c", [.6, .4], [10, 30], 22 },
    };

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_optimum_is_the_published_cost(string name, double[] probabilities, double[] minutes, double expected)
    {
        var model = new WorldModel(WorldOf(name, probabilities, minutes));
        Assert.Equal(expected, new Optimum(model).From(model.Start), 0.02);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_program_takes_the_tests_in_the_order_of_p_over_C(string name, double[] probabilities, double[] minutes, double expected)
    {
        var world = WorldOf(name, probabilities, minutes);
        var model = new WorldModel(world);
        var policy = new ProgramPolicy(world, model);
        var order = RepairOrder.ByRatio(probabilities.Select((p, i) => new RepairAction($"proof-{i + 1}", p, minutes[i])));

        var (state, taken) = (model.Start, new List<string>());
        for (var i = 0; i < probabilities.Length; i++)
        {
            var step = policy.Choose(state)!.Value;
            taken.Add(world.Steps[step].Test);
            state = model.After(state, step).Last().State;
        }

        Assert.Equal(order.Select(a => a.Id), taken);
        Assert.Equal(expected, PolicyRun.Of(model, policy).Minutes, 0.02);
    }

    private static SmallWorld WorldOf(string name, double[] probabilities, double[] minutes)
    {
        const double Never = 1e-7;
        var builder = new WorldBuilder(name, "each cause has a proof that cannot fail");
        for (var i = 0; i < minutes.Length; i++)
        {
            builder.Test($"proof-{i + 1}", minutes[i], Access.None, 0, ("found", Never), ("not-found", 1 - Never));
        }

        for (var i = 0; i < minutes.Length; i++)
        {
            builder.Cause($"cause-{i + 1}", probabilities[i], ($"proof-{i + 1}", [1 - Never, Never])).Proof(($"proof-{i + 1}", "found"));
        }

        return builder.Build();
    }
}
