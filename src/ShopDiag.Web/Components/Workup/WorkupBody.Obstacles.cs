using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Components.WorkupViews;

/// <content>What cannot be taken on the car: said on the next step or in a cell, taken back by a touch.</content>
public sealed partial class WorkupBody
{
    private void ShowObstacleForm(string id) => _afterRender = b => b.BringUpAsync(id);

    private async Task SayOfStepAsync((StepView Step, ObstacleSaid Said) said)
    {
        if (await SayAsync(said.Step.Start!.Value.Test, said.Said))
        {
            // The card says another step now; the cursor was in the form, which is gone.
            _afterRender = async b =>
            {
                await b.UnrollAsync(NextStepCard.TitleId);
                await b.BringUpAsync(NextStepCard.TitleId);
                await b.FocusAsync(NextStepCard.TitleId, stay: true);
            };
        }
    }

    private async Task SayOfCellAsync(ObstacleSaid said)
    {
        var form = _flow!.Form!;
        if (!await SayAsync(form.Cell.Test, said) || !ReferenceEquals(_flow.Form, form))
        {
            return;
        }

        if (said.At == Place.Engine || _flow.Next is null)
        {
            CloseAsync();
        }
        else
        {
            _flow.Advance();
            FocusField(_flow.Form!.First, stay: false);
        }
    }

    // A second touch while the first is under way is the same touch.
    private async Task<bool> SayAsync(string test, ObstacleSaid said)
    {
        if (_saying)
        {
            return false;
        }

        _saying = true;
        try
        {
            var result = await _session!.SayAsync(test, said, () => _browser?.ForgetAsync(said.Drafts) ?? Task.CompletedTask);
            (_problem, _done) = WorkupSession.IsSaved(result) ? ("", "") : (result.Message, "");
            return _problem.Length == 0;
        }
        finally
        {
            _saying = false;
        }
    }

    private async Task EndObstacleAsync(Guid obstacle)
    {
        Said(await _session!.EndObstacleAsync(obstacle), "It can be taken after all. What was said stays on record.");
        if (_flow!.Form is { } form)
        {
            FocusField(form.First, stay: false);
        }
    }
}
