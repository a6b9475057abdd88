using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Which cylinders a suspected one is compared with where a few are enough: those read already, then those that are easiest to get at and not suspected themselves.
/// </summary>
internal sealed class Companions(Workup workup, Belief belief, BenchTime time, Opened opened)
{
    /// <summary>From this probability of a fault of its own a cylinder is looked at beside a few others; below it the round of all is as good.</summary>
    private const double Suspected = 0.15;

    /// <summary>From this probability of a fault of its own a cylinder is no good comparison.</summary>
    private const double Doubtful = 0.03;

    private readonly Dictionary<Place, double> _suspicion = SuspicionOf(workup, belief);

    /// <summary>The cylinders on which a fault is likely enough to look at them beside a few others, likeliest first.</summary>
    public IEnumerable<Place> Suspects => _suspicion.Where(s => s.Value >= Suspected).OrderByDescending(s => s.Value).ThenBy(s => s.Key.First).Select(s => s.Key);

    /// <summary>
    /// The readings still to take until a cylinder stands beside enough others, itself first; none when all of them are there.
    /// </summary>
    public ImmutableArray<Place> Missing(BenchTest test, Place suspect)
    {
        var read = workup.Readings.Where(r => r.Test == test.Id).Select(r => r.At).ToHashSet();
        var others = test.PlacesOn(workup.Engine).Where(p => p != suspect && (read.Contains(p) || workup.CanTake(test, p)))
            .OrderBy(p => read.Contains(p) ? 0 : 1)
            .ThenBy(p => _suspicion.GetValueOrDefault(p) >= Doubtful ? 1 : 0)
            .ThenBy(p => time.Minutes(time.After(opened, test, [suspect]), test, [p]))
            .ThenBy(p => p.First)
            .Take(test.CompareWith);
        return [.. others.Prepend(suspect).Where(p => !read.Contains(p))];
    }

    private static Dictionary<Place, double> SuspicionOf(Workup workup, Belief belief)
    {
        var suspicion = workup.Engine.Cylinders.ToDictionary(Place.Cylinder, _ => 0.0);
        for (var h = 0; h < belief.Hypotheses.Length; h++)
        {
            var at = belief.Hypotheses[h].At;
            if (at.Kind == PlaceKind.Cylinder)
            {
                suspicion[at] += belief.Probability(h);
            }
        }

        return suspicion;
    }
}
