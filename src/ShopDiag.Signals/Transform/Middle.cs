namespace ShopDiag.Signals.Transform;

/// <summary>Medians for signals: many and fast, where <see cref="Diagnosis.Statistics.Robust"/> is for a handful of readings.</summary>
internal static class Middle
{
    /// <summary>The value that would stand at <paramref name="rank"/> (from 0) in order. Reorders the values. There must be one at least.</summary>
    public static float Select(Span<float> values, int rank)
    {
        var (low, high) = (0, values.Length - 1);
        while (low < high)
        {
            var pivot = values[(low + high) / 2];
            var (i, j) = (low, high);
            while (i <= j)
            {
                while (values[i] < pivot)
                {
                    i++;
                }

                while (values[j] > pivot)
                {
                    j--;
                }

                if (i <= j)
                {
                    (values[i], values[j]) = (values[j], values[i]);
                    i++;
                    j--;
                }
            }

            if (rank <= j)
            {
                high = j;
            }
            else if (rank >= i)
            {
                low = i;
            }
            else
            {
                break;
            }
        }

        return values[rank];
    }

    /// <summary>The upper median of a copy of the values; 0 for none.</summary>
    public static double Of(ReadOnlySpan<double> values)
    {
        if (values.IsEmpty)
        {
            return 0;
        }

        var copy = values.ToArray();
        Array.Sort(copy);
        return copy.Length % 2 == 1 ? copy[copy.Length / 2] : (copy[(copy.Length / 2) - 1] + copy[copy.Length / 2]) / 2;
    }

    /// <summary>Each value replaced by the median of itself and <paramref name="reach"/> neighbours on either side, fewer at the ends.</summary>
    public static double[] Filter(ReadOnlySpan<double> values, int reach)
    {
        var filtered = new double[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            var around = Math.Min(reach, Math.Min(i, values.Length - 1 - i));
            filtered[i] = Of(values.Slice(i - around, (2 * around) + 1));
        }

        return filtered;
    }
}
