namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>Draws that the cars are made of. All of it comes from the <see cref="Random"/> that is handed in.</summary>
internal static class Chance
{
    /// <summary>True with a probability.</summary>
    public static bool Happens(this Random random, double probability) => random.NextDouble() < probability;

    /// <summary>Evenly between two bounds.</summary>
    public static double Between(this Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    /// <summary>Normal scatter about a mean (Box and Muller).</summary>
    public static double Normal(this Random random, double mean, double sigma)
    {
        var radius = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()));
        return mean + (sigma * radius * Math.Cos(2 * Math.PI * random.NextDouble()));
    }

    /// <summary>How often something of a probability happens in so many tries.</summary>
    public static int Count(this Random random, int tries, double probability)
    {
        var count = 0;
        for (var i = 0; i < tries; i++)
        {
            count += random.NextDouble() < probability ? 1 : 0;
        }

        return count;
    }

    /// <summary>One of a list.</summary>
    public static T Of<T>(this Random random, IReadOnlyList<T> list) => list[random.Next(list.Count)];

    /// <summary>One of a list by weight.</summary>
    public static T Weighted<T>(this Random random, IReadOnlyList<T> list, Func<T, double> weight)
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

    /// <summary>Soft step from 0 to 1: one half at 0, nearly 1 from three widths on.</summary>
    public static double Step(double over, double width) => 1 / (1 + Math.Exp(-over / width));

    /// <summary>A random source of its own for one purpose, so that what else is drawn does not disturb it.</summary>
    public static Random Stream(int seed, string purpose, int number = 0)
    {
        var hash = 2166136261u;
        foreach (var c in purpose)
        {
            hash = (hash ^ c) * 16777619u;
        }

        hash = (hash ^ (uint)seed) * 16777619u;
        hash = (hash ^ (uint)number) * 16777619u;
        hash ^= hash >> 15;
        hash *= 2246822519u;
        hash ^= hash >> 13;
        return new Random((int)hash);
    }
}
