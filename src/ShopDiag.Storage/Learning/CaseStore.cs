using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Learning;

/// <summary>The shop's proven diagnoses, counted: what its priors are learned from. A finding taken over without proof, or taken back, does not count.</summary>
public sealed class CaseStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;

    internal CaseStore(IDbContextFactory<ShopDb> contexts) => _contexts = contexts;

    /// <summary>
    /// How often each cause was proven on engines of each family. <paramref name="except"/> leaves one order out: what was found on a car must not count as a reason to
    /// expect it on the same car.
    /// </summary>
    public async Task<ImmutableArray<CaseCount>> CountAsync(Guid? except = null, CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var counts = await Counted(db.ProvenDiagnoses, except)
                .GroupBy(d => new { d.Cause, d.EngineFamily })
                .Select(g => new { g.Key.Cause, g.Key.EngineFamily, Cases = g.Count() })
                .OrderBy(g => g.Cause).ThenBy(g => g.EngineFamily)
                .ToListAsync(cancel).ConfigureAwait(false);
            return [.. counts.Where(c => EngineFamily.Read(c.EngineFamily) is not null).Select(c => new CaseCount(c.Cause, EngineFamily.Read(c.EngineFamily)!, c.Cases))];
        }
    }

    /// <summary>The numbers on paper of the orders behind a figure, newest first, at most <paramref name="most"/>.</summary>
    public async Task<ImmutableArray<int>> OrdersAsync(string cause, EngineFamily? family, int most, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(cause);
        var id = family?.Id;
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            return
            [
                .. await db.ProvenDiagnoses.Where(d => d.Cause == cause && (id == null || d.EngineFamily == id))
                    .Join(db.Orders, d => d.OrderId, o => o.Id, (d, o) => o.Number)
                    .OrderByDescending(n => n).Take(most)
                    .ToListAsync(cancel).ConfigureAwait(false),
            ];
        }
    }

    private static IQueryable<ProvenDiagnosisRow> Counted(IQueryable<ProvenDiagnosisRow> all, Guid? except) =>
        except is { } order ? all.Where(d => d.OrderId != order) : all;
}
