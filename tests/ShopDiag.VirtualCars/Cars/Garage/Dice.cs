namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>Chance with the shapes that a garage shows: long tails, odd outliers, weighted picks.</summary>
internal sealed class Dice(Random random)
{
    // Made-up: one instrument reading in eighty is far off for no reason that anybody finds.
    private const double OutlierChance = 1.0 / 80;
    private const double OutlierTimes = 4;

    // Fewer degrees of freedom, longer tails; four keeps a variance and still surprises. Made-up.
    private const int TailFreedom = 4;

    /// <summary>Dice that always fall the same for the same key, so that the order in which readings are taken changes none of them.</summary>
    public static Dice For(int seed, string name, params int[] more)
    {
        var hash = unchecked((2166136261u ^ (uint)seed) * 16777619u);
        foreach (var letter in name)
        {
            hash = unchecked((hash ^ letter) * 16777619u);
        }

        foreach (var number in more)
        {
            hash = unchecked((hash ^ (uint)(number + 97)) * 16777619u);
            hash ^= hash >> 13;
        }

        return new Dice(new Random(unchecked((int)(hash * 2654435769u))));
    }

    /// <summary>A seed for further dice.</summary>
    public int Seed() => random.Next();

    /// <summary>Evenly from 0 up to 1.</summary>
    public double Share() => random.NextDouble();

    /// <summary>Evenly from one number up to another.</summary>
    public double Between(double low, double high) => low + ((high - low) * random.NextDouble());

    /// <summary>A whole number from one to another, both included.</summary>
    public int Whole(int low, int high) => random.Next(low, high + 1);

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => random.NextDouble() < probability;

    /// <summary>Standard normal.</summary>
    public double Normal() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Scatter about zero with long tails (Student's t) and now and then an outlier.</summary>
    public double Scatter(double scale)
    {
        var squares = 0.0;
        for (var i = 0; i < TailFreedom; i++)
        {
            var z = Normal();
            squares += z * z;
        }

        var t = Normal() / Math.Sqrt(Math.Max(squares, 1e-6) / TailFreedom);
        return t * scale * (Chance(OutlierChance) ? OutlierTimes : 1);
    }

    /// <summary>A factor about one, as often above as below it.</summary>
    public double Factor(double spread) => Math.Exp(Normal() * spread);

    /// <summary>How many of so many chances came up.</summary>
    public int Count(int chances, double probability)
    {
        var mean = chances * Math.Clamp(probability, 0, 1);
        if (mean > 30)
        {
            var spread = Math.Sqrt(mean * (1 - Math.Clamp(probability, 0, 1)));
            return (int)Math.Clamp(Math.Round(mean + (Normal() * spread), MidpointRounding.AwayFromZero), 0, chances);
        }

        var count = 0;
        for (var product = random.NextDouble(); product > Math.Exp(-mean) && count < chances; product *= random.NextDouble())
        {
            count++;
        }

        return count;
    }

    /// <summary>One of a list, each as likely.</summary>
    public T OneOf<T>(IReadOnlyList<T> list) => list[random.Next(list.Count)];

    /// <summary>One of a list by weight.</summary>
    public T Weighted<T>(IReadOnlyList<T> list, Func<T, double> weight)
    {
        var left = random.NextDouble() * list.Sum(weight);
        foreach (var item in list)
        {
            left -= weight(item);
            if (left < 0)
            {
                return item;
            }
        }

        return list[^1];
    }
}
