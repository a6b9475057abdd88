using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <content>The entry: opening cells, saving readings, taking them back, picking up what was left unfinished.</content>
public sealed partial class WorkupBody
{
    private Task StartAsync(StepView step)
    {
        if (step.Start is not { } cell)
        {
            return Task.CompletedTask;
        }

        Open(f => f.Start(cell, step.Round));
        return cell.Stage == _session!.View!.Stage ? Task.CompletedTask : _session.ShowStageAsync(cell.Stage);
    }

    private Task OpenAsync(CellKey cell, bool round)
    {
        Open(f => f.Open(cell, round));
        return cell.Stage == _session!.View!.Stage ? Task.CompletedTask : _session.ShowStageAsync(cell.Stage);
    }

    private void GoAsync(Place place) => Open(f => f.Go(place));

    private void SetFiringOrderAsync(bool firingOrder) => Open(f => f.SetFiringOrder(firingOrder));

    private void Open(Action<EntryFlow> open)
    {
        open(_flow!);
        (_cylinder, _problem, _removedPhoto) = (null, "", null);
        FocusField(_flow!.Form!.First, stay: false);
        var focus = _afterRender!;
        _afterRender = async b =>
        {
            await b.UnrollAsync("wk-do-top");
            await focus(b);
        };
    }

    private void CloseAsync()
    {
        var cell = _flow!.Cell;
        _flow.Close();
        _cylinder = null;
        _afterRender = async b =>
        {
            if (cell is { } back)
            {
                await b.FocusCellAsync(back);
            }

            // What was typed and not entered is unfinished work now.
            _unfinished = await UnfinishedAsync();
            StateHasChanged();
        };
    }

    private async Task StepAsync(EntryStep step)
    {
        var form = _flow!.Form!;
        if (step.Reading is not { } reading)
        {
            FocusField(step.Focus ?? form.First, stay: step.Focus is { } name && (form[name].Refusal ?? form[name].Doubt) is not null);
            return;
        }

        // A second Enter while the first is under way is the same Enter. What was entered elsewhere meanwhile is not: it waits for its turn.
        if (!_underWay.Add(form))
        {
            return;
        }

        var turn = SaveAfterAsync(_lastTurn, form, reading);
        _lastTurn = turn;
        await turn;
    }

    private async Task SaveAfterAsync(Task before, EntryForm form, Reading reading)
    {
        try
        {
            // Whatever became of it: who entered it was told.
            await before.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing | ConfigureAwaitOptions.ContinueOnCapturedContext);
            await SaveAsync(form, reading);
        }
        finally
        {
            _underWay.Remove(form);
        }
    }

    private async Task SaveAsync(EntryForm form, Reading reading)
    {
        var keys = DraftsOf(form);
        var corrected = form.Mode == EntryMode.Correct && _session!.History(form.Cell).Counting is [.., var newest] ? newest.Id : (Guid?)null;
        var result = await _session!.SaveAsync(reading, corrected, () => _browser?.ForgetAsync(keys) ?? Task.CompletedTask);
        if (!WorkupSession.IsSaved(result))
        {
            _problem = result.Message;
            form.Fields[0].Refuse(result.Message);
            if (ReferenceEquals(_flow!.Form, form))
            {
                FocusField(form.Fields[0].Field.Name, stay: true);
            }

            return;
        }

        (_problem, _done) = ("", result.Message);
        // Whoever takes the first reading has begun to look for the cause.
        if (Live.Order.Stage == OrderStage.WrittenUp)
        {
            await Live.MoveAsync(OrderStage.InDiagnosis, "");
        }

        _unfinished = _unfinished.Remove(form.Cell);
        // Somebody may have gone to another cell while this one was being saved.
        if (!ReferenceEquals(_flow!.Form, form))
        {
            return;
        }

        if (_flow.Advance())
        {
            FocusField(_flow.Form!.First, stay: false);
        }
        else
        {
            _afterRender = b => b.FocusCellAsync(form.Cell);
        }
    }

    private Task UndoAsync() => _session!.Last switch
    {
        { IsObstacle: true } said => EndObstacleAsync(said.Id),
        { } read => TakeBackAsync(read.Id),
        null => Task.CompletedTask,
    };

    private async Task TakeBackAsync(Guid reading)
    {
        Said(await _session!.TakeBackAsync(reading), "Taken back. It stays on record.");
        if (_flow!.Form is { } form)
        {
            FocusField(form.First, stay: false);
        }
    }

    private Task PickUpAsync(CellKey cell)
    {
        _unfinished = _unfinished.Remove(cell);
        var opened = OpenAsync(cell, true);
        // The journal puts the text back; what is typed now goes on from its end.
        FocusField(_flow!.Form!.First, stay: true);
        return opened;
    }

    private async Task ForgetAsync(CellKey cell)
    {
        _unfinished = _unfinished.Remove(cell);
        if (Knowledge.Test(cell.Test) is { } test && _browser is not null)
        {
            await _browser.ForgetAsync(DraftsOf(cell, test));
        }
    }

    private string[] DraftsOf(EntryForm form) => DraftsOf(form.Cell, Knowledge.Test(form.Cell.Test)!);

    private string[] DraftsOf(CellKey cell, BenchTest test) =>
        [.. test.Fields.Select(f => f.Name).Append(EntryPanel.NoteField).Select(n => cell.DraftKey(Live.Order.Id, n))];

    private async Task<ImmutableArray<CellKey>> UnfinishedAsync()
    {
        var keys = await _browser!.DraftsAsync(CellKey.DraftPrefix(Live.Order.Id));
        return
        [
            .. keys.Select(k => CellKey.ReadDraft(Live.Order.Id, k)?.Cell).OfType<CellKey>().Distinct()
                .Where(c => c != _flow?.Cell && Knowledge.Test(c.Test) is not null && _session!.View!.Engine.Has(c.At)),
        ];
    }

    private void FocusField(string name, bool stay)
    {
        var index = _flow!.Form!.Fields.IndexOf(_flow.Form[name]);
        _afterRender = b => b.FocusAsync(EntryFieldView.IdOf(index), stay);
    }
}
