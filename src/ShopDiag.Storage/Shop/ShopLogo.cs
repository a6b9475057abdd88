using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Shop;

/// <summary>
/// The shop's logo, a small picture, with the one before it so that a change can be taken back. What it is given has been drawn anew by the caller; nothing is looked into here.
/// </summary>
public sealed class ShopLogo
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;

    internal ShopLogo(IDbContextFactory<ShopDb> contexts, ShopWriter writer) => (_contexts, _writer) = (contexts, writer);

    /// <summary>The picture, or empty for none.</summary>
    public ReadOnlyMemory<byte> Read()
    {
        using var db = _contexts.CreateDbContext();
        return db.Logos.Where(l => l.IsPrinted).Select(l => l.Png).SingleOrDefault();
    }

    /// <summary>Puts a picture in the place of the one there is; refused for somebody who may not.</summary>
    public Task<SaveResult> KeepAsync(ReadOnlyMemory<byte> png, CancellationToken cancel = default) => ChangeAsync("logo kept", rows => rows.Printed = png.ToArray(), cancel);

    /// <summary>Takes the logo away; refused for somebody who may not.</summary>
    public Task<SaveResult> RemoveAsync(CancellationToken cancel = default) => ChangeAsync("logo taken away", rows => rows.Printed = null, cancel);

    /// <summary>Brings back what was there before the last change; twice is the change again.</summary>
    public Task<SaveResult> UndoAsync(CancellationToken cancel = default) => ChangeAsync("logo changed back", rows => rows.Printed = rows.Before, cancel);

    private Task<SaveResult> ChangeAsync(string what, Action<Pictures> change, CancellationToken cancel) => _writer.SaveAsync(
        Permission.ChangeSettings,
        async write =>
        {
            var rows = await write.Db.Logos.ToListAsync(CancellationToken.None).ConfigureAwait(false);
            var printed = rows.Find(r => r.IsPrinted)?.Png;
            var pictures = new Pictures { Printed = printed, Before = rows.Find(r => !r.IsPrinted)?.Png };
            change(pictures);
            if (!ReferenceEquals(pictures.Printed, printed))
            {
                Put(write.Db, rows.Find(r => r.IsPrinted), true, pictures.Printed);
                Put(write.Db, rows.Find(r => !r.IsPrinted), false, printed);
                write.Record(what);
            }

            return new SaveResult(SaveOutcome.Saved, "");
        },
        cancel);

    private static void Put(ShopDb db, LogoRow? row, bool printed, byte[]? png)
    {
        switch (row, png)
        {
            case (null, not null):
                db.Logos.Add(new() { IsPrinted = printed, Png = png });
                break;
            case (not null, null):
                db.Logos.Remove(row);
                break;
            case (not null, not null):
                row.Png = png;
                break;
            default:
                break;
        }
    }

    private sealed class Pictures
    {
        public byte[]? Printed { get; set; }

        public byte[]? Before { get; init; }
    }
}
