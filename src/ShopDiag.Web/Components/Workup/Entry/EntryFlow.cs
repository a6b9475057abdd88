using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The entry as it goes over the sheet: which cell is open, what follows, and what is carried on from one cell to the next.</summary>
public sealed class EntryFlow
{
    private readonly Engine _engine;
    private readonly Knowledge _knowledge;
    private readonly ShopUnits _units;
    private readonly Func<CellKey, bool> _isFilled;
    private readonly Func<CellKey, bool> _isBarred;

    /// <summary>
    /// Begins with nothing open. <paramref name="isFilled"/> says whether a cell has a reading now, <paramref name="isBarred"/> whether it is said that there can be none just there: no round goes to such a
    /// cell, for the next number typed would end what was said.
    /// </summary>
    public EntryFlow(Engine engine, Knowledge knowledge, ShopUnits units, Func<CellKey, bool> isFilled, Func<CellKey, bool> isBarred) =>
        (_engine, _knowledge, _units, _isFilled, _isBarred) = (engine, knowledge, units, isFilled, isBarred);

    /// <summary>The test whose entry is open; null when none is.</summary>
    public BenchTest? Test { get; private set; }

    /// <summary>The form of the open cell; null when none is open.</summary>
    public EntryForm? Form { get; private set; }

    /// <summary>The way over the engine.</summary>
    public EntryRound Round { get; private set; } = new([]);

    /// <summary>True when the next cylinder is the next that fires, false for bank order.</summary>
    public bool FiringOrder { get; private set; }

    /// <summary>The open cell, or null.</summary>
    public CellKey? Cell => Form?.Cell;

    /// <summary>All places of the round's kind in order of entry, to go to directly.</summary>
    public ImmutableArray<Place> Places => Cell is { } cell ? EntryRound.Around(_engine, cell.At.Kind, FiringOrder) : [];

    /// <summary>The place that follows the open cell; null where none is open or the round ends with it.</summary>
    public Place? Next => Cell is { } cell ? Round.After(cell.At, p => _isFilled(cell with { At = p }), p => _isBarred(cell with { At = p })) : null;

    /// <summary>True when the flow is for this engine.</summary>
    public bool Fits(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return ReferenceEquals(engine.Spec, _engine.Spec) || (engine.FiringOrder.SequenceEqual(_engine.FiringOrder)
            && engine.Banks.SelectMany(b => b).SequenceEqual(_engine.Banks.SelectMany(b => b))
            && engine.Ignition == _engine.Ignition && engine.Injection == _engine.Injection);
    }

    /// <summary>Opens a cell; <paramref name="round"/> false takes the one reading and closes.</summary>
    public void Open(CellKey cell, bool round = true)
    {
        var test = _knowledge.Test(cell.Test) ?? throw new ArgumentException($"There is no test '{cell.Test}'.", nameof(cell));
        var warm = Form?.Warm;
        Test = test;
        Round = round ? RoundFrom(cell) : EntryRound.Only(cell.At);
        Form = NewForm(cell, warm);
    }

    /// <summary>Opens the test of a suggestion: a round begins at the first place without a reading.</summary>
    public void Start(CellKey cell, bool round)
    {
        var first = round
            ? EntryRound.Around(_engine, cell.At.Kind, FiringOrder).Cast<Place?>().FirstOrDefault(p => !_isFilled(cell with { At = p!.Value }) && !_isBarred(cell with { At = p.Value })) ?? cell.At
            : cell.At;
        Open(cell with { At = first }, round);
    }

    /// <summary>Goes to another place of the same test; the round goes on from there.</summary>
    public void Go(Place at) => Open(Form!.Cell with { At = at });

    /// <summary>Changes the order of entry; the round goes on from the open cell.</summary>
    public void SetFiringOrder(bool firingOrder)
    {
        FiringOrder = firingOrder;
        if (Cell is { } cell && Round.Places.Length > 1)
        {
            Round = RoundFrom(cell);
        }
    }

    /// <summary>After a reading is saved, or it is said that there can be none: on to the next place, or, at the end of the round, closed. True when a place followed.</summary>
    public bool Advance()
    {
        var done = Form!;
        if (Next is not { } next)
        {
            Close();
            return false;
        }

        Form = NewForm(done.Cell with { At = next }, done.Warm);
        foreach (var field in done.Fields.Where(f => f.Field.SameForRound))
        {
            Form[field.Field.Name].Text = field.Text;
        }

        return true;
    }

    /// <summary>Closes the entry.</summary>
    public void Close() => (Test, Form, Round) = (null, null, new([]));

    private EntryRound RoundFrom(CellKey cell) => EntryRound.From(cell.At, _engine, FiringOrder, p => _isFilled(cell with { At = p }), p => _isBarred(cell with { At = p }));

    private EntryForm NewForm(CellKey cell, bool? warm) => new(cell, Test!, _engine, _units)
    {
        Warm = warm,
        // Where several numbers are the rule (a balance run), a second value is a second trial; elsewhere it is usually a correction.
        Mode = Test!.Fields.Any(f => f.Several && f.Kind == FieldKind.Number) ? EntryMode.Trial : EntryMode.Correct,
    };
}
