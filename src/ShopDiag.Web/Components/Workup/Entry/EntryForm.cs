using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What is to be done after Enter or a touch.</summary>
/// <param name="Reading">The reading to save, or null: stay in the cell.</param>
/// <param name="Focus">The field to go to, or null: stay where it is.</param>
public readonly record struct EntryStep(Reading? Reading, string? Focus);

/// <summary>What a new value in a cell that has one already is.</summary>
public enum EntryMode
{
    /// <summary>A further trial beside the others.</summary>
    Trial,

    /// <summary>A correction: the newest reading no longer counts.</summary>
    Correct,
}

/// <summary>The entry of one cell: its fields, and what Enter and a touch on a choice do. Knows no browser and no database.</summary>
public sealed class EntryForm
{
    private readonly BenchTest _test;
    private readonly Engine _engine;

    /// <summary>An empty form for a cell.</summary>
    public EntryForm(CellKey cell, BenchTest test, Engine engine, ShopUnits units)
    {
        (Cell, _test, _engine) = (cell, test, engine);
        Fields = [.. test.Fields.Select(f => new CellField(f, units))];
    }

    /// <summary>The cell.</summary>
    public CellKey Cell { get; }

    /// <summary>The fields in order of entry.</summary>
    public ImmutableArray<CellField> Fields { get; }

    /// <summary>Engine warm, cold, or not said.</summary>
    public bool? Warm { get; set; }

    /// <summary>Free words of the technician.</summary>
    public string Note { get; set; } = "";

    /// <summary>A further trial or a correction, where the cell has a reading already.</summary>
    public EntryMode Mode { get; set; }

    /// <summary>True when anything has been entered.</summary>
    public bool IsBegun => Fields.Any(f => !f.IsEmpty);

    /// <summary>The field with a name.</summary>
    public CellField this[string name] => Fields.First(f => f.Field.Name == name);

    /// <summary>Where typing begins: the first field that is empty and asked for, otherwise the first.</summary>
    public string First => (Fields.FirstOrDefault(IsOpen) ?? Fields[0]).Field.Name;

    /// <summary>Enter in a field: on to the next empty one, or, when none follows, the reading.</summary>
    public EntryStep Enter(string name)
    {
        var here = Fields.IndexOf(this[name]);
        if (Fields[here].Read() is null && (Fields[here].Refusal ?? Fields[here].Doubt) is not null)
        {
            return new(null, name);
        }

        return Fields[(here + 1)..].FirstOrDefault(IsOpen) is { } next ? new(null, next.Field.Name) : Finish();
    }

    /// <summary>
    /// A touch on a choice. It is the reading when nothing else is asked for: every field that must be there is, and no open one
    /// follows. After "none" nothing more is asked.
    /// </summary>
    public EntryStep Touch(string name, string text)
    {
        var here = Fields.IndexOf(this[name]);
        Fields[here].Text = text;
        var complete = Fields.All(f => !f.IsEmpty || f.Field.Optional) && (text == CellField.None || !Fields[(here + 1)..].Any(IsOpen));
        return complete && (Fields[here].Field.Kind != FieldKind.Choices || text == CellField.None)
            ? Finish()
            : new(null, Fields[(here + 1)..].FirstOrDefault(IsOpen)?.Field.Name);
    }

    /// <summary>The reading as it stands, or the field that keeps it from being one.</summary>
    public EntryStep Finish()
    {
        var values = new List<KeyValuePair<string, FieldValue>>();
        foreach (var entry in Fields)
        {
            if (entry.Read() is { } value)
            {
                values.Add(new(entry.Field.Name, value));
            }
        }

        if (Fields.FirstOrDefault(f => (f.Refusal ?? f.Doubt) is not null) is { } stop)
        {
            return new(null, stop.Field.Name);
        }

        var reading = new Reading
        {
            Test = _test.Id,
            At = Cell.At,
            Stage = Cell.Stage,
            Value = new ReadingValue(values),
            Warm = Warm,
            Note = string.IsNullOrWhiteSpace(Note) ? null : Note.Trim(),
        };
        return ReadingCheck.Error(reading, _test, _engine) is { } error ? Refuse(error.At, error.Message) : new(reading, null);
    }

    // A setting of the tester that may be left out is offered, not asked for: Enter passes it by.
    private static bool IsOpen(CellField field) => field.IsEmpty && field.Field is not { Optional: true, SameForRound: true };

    // The last check is the same one that every other way in goes through; its path names the field.
    private EntryStep Refuse(string path, string message)
    {
        var field = Fields.FirstOrDefault(f => path == "value." + f.Field.Name) ?? Fields[0];
        field.Refuse(message);
        return new(null, field.Field.Name);
    }
}
