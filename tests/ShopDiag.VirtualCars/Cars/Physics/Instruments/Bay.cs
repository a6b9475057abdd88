using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>The car in the bay: its hidden state, how it drives, who reads, and under which condition the shop gets to see the misfire.</summary>
internal sealed class Bay
{
    public Bay(EngineState engine, Driving driving, Reader reader, int seed)
    {
        (Engine, Driving, Reader) = (engine, driving, reader);
        var random = Chance.Stream(seed, "bay");
        // What can be brought about on this day: a cold start needs a night, damp a spray bottle, heat a long run.
        var conditions = new List<Condition> { Condition.Idle, Condition.Speed, Condition.Load };
        conditions.AddRange(new[] { (Condition.Cold, 0.7), (Condition.Hot, 0.85), (Condition.Damp, 0.75), (Condition.Rev, 0.6) }
            .Where(c => random.Happens(c.Item2)).Select(c => c.Item1));
        Shown = conditions.MaxBy(c => driving.At(c).Worst > Driving.Felt ? driving.At(c).Worst : 0)!;
        if (driving.At(Shown).Worst <= Driving.Felt)
        {
            Shown = Condition.Idle;
        }
    }

    public EngineState Engine { get; }

    public Driving Driving { get; }

    public Reader Reader { get; }

    /// <summary>The condition under which the misfire is looked for: the one that shows it best among those that the shop can bring about.</summary>
    public Condition Shown { get; }

    /// <summary>A field of numbers.</summary>
    public static KeyValuePair<string, FieldValue> Field(string name, params double[] numbers) => new(name, FieldValue.Of(numbers));

    /// <summary>A field of words.</summary>
    public static KeyValuePair<string, FieldValue> Field(string name, params string[] words) => new(name, FieldValue.Of(words));

    /// <summary>A field that is left empty on purpose.</summary>
    public static KeyValuePair<string, FieldValue> Empty(string name) => new(name, FieldValue.Null);

    /// <summary>A number as an instrument shows and a person writes it: scatter, slips, so many decimals.</summary>
    public double Read(Random random, double value, double sigma, int decimals = 0)
    {
        var shown = random.Normal(value, sigma * Reader.Scatter);
        return Math.Round(Reader.Written(random, Math.Max(0, shown)), decimals, MidpointRounding.AwayFromZero);
    }

    /// <summary>Takes a test's fields at a place; null when the test cannot be taken on this car.</summary>
    public delegate IEnumerable<KeyValuePair<string, FieldValue>>? Instrument(Bay bay, int place, Random random);

    /// <summary>The instruments by the id of the test.</summary>
    public static ImmutableDictionary<string, Instrument> Instruments { get; } = new[]
    {
        WhichCylinder.All, IgnitionBench.All, SwapBench.All, FuelBench.All, AirBench.All, SealBench.All, ValveBench.All, EngineBench.All,
    }.SelectMany(all => all).ToImmutableDictionary(p => p.Test, p => p.Take, StringComparer.Ordinal);
}
