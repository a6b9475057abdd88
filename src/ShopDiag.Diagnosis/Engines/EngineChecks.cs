using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Engines;

/// <summary>The checks behind <see cref="Engine.Create"/>; the first thing wrong is reported.</summary>
internal static class EngineChecks
{
    /// <summary>The first error of a description, or null.</summary>
    public static InputError? FirstError(EngineSpec spec) =>
        FiringOrderError(spec) ?? BanksError(spec) ?? IntervalsError(spec) ?? AccessError(spec) ?? LimitError(spec);

    private static InputError? FiringOrderError(EngineSpec spec)
    {
        if (spec.FiringOrder.IsDefaultOrEmpty)
        {
            return new("firingOrder", "The firing order is missing. List every cylinder once, such as [1,3,4,2].");
        }

        var n = spec.FiringOrder.Length;
        if (n > Engine.MaxCylinders)
        {
            return new("firingOrder", $"{n} cylinders; at most {Engine.MaxCylinders} can be handled.");
        }

        return IsEachOnce(spec.FiringOrder, n)
            ? null
            : new("firingOrder", $"The firing order must name each cylinder from 1 to {n} exactly once.");
    }

    private static InputError? BanksError(EngineSpec spec)
    {
        var n = spec.FiringOrder.Length;
        if (spec.Banks.IsDefaultOrEmpty || spec.Banks.Any(b => b.IsDefaultOrEmpty))
        {
            return new("banks", "The banks are missing. List the cylinders of each bank front to rear, such as [[1,3,5],[2,4,6]].");
        }

        return IsEachOnce([.. spec.Banks.SelectMany(b => b)], n)
            ? null
            : new("banks", $"The banks must hold each cylinder from 1 to {n} exactly once, as the firing order does.");
    }

    private static InputError? IntervalsError(EngineSpec spec)
    {
        if (spec.FiringIntervals.IsDefaultOrEmpty)
        {
            return null;
        }

        if (spec.FiringIntervals.Length != spec.FiringOrder.Length || spec.FiringIntervals.Any(i => !(i > 0 && i < 720)))
        {
            return new("firingIntervals", "Give one interval above 0 and below 720 degrees for each firing.");
        }

        return Math.Abs(spec.FiringIntervals.Sum() - 720) < 0.5
            ? null
            : new("firingIntervals", "The firing intervals of a four-stroke engine must add up to 720 degrees.");
    }

    private static InputError? AccessError(EngineSpec spec)
    {
        foreach (var (bank, minutes) in spec.AccessMinutes.OrderBy(p => p.Key))
        {
            if (bank < 1 || bank > spec.Banks.Length)
            {
                return new($"accessMinutes.{bank}", $"There is no bank {bank}; this engine has {spec.Banks.Length}.");
            }

            if (!(minutes >= 0 && minutes <= 1440))
            {
                return new($"accessMinutes.{bank}", "Access minutes must be from 0 to 1440.");
            }
        }

        return null;
    }

    private static InputError? LimitError(EngineSpec spec)
    {
        foreach (var (id, value) in spec.Limits.OrderBy(p => p.Key, StringComparer.Ordinal))
        {
            if (!double.IsFinite(value))
            {
                return new($"limits.{id}", "A limit must be a number.");
            }
        }

        return null;
    }

    private static bool IsEachOnce(ImmutableArray<int> cylinders, int n) =>
        cylinders.Length == n && cylinders.Order().SequenceEqual(Enumerable.Range(1, n));
}
