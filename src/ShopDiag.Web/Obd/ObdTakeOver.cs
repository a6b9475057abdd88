using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Obd;

/// <summary>
/// Enters what a person confirmed, through the same commands as what is typed. Each reading's id is made once for a log, so that confirming twice enters it once.
/// </summary>
public sealed class ObdTakeOver(OrderLive live, OrderPageServices with)
{
    private readonly Dictionary<(string Offer, int Reading), Guid> _ids = [];

    /// <summary>Enters one offer. Empty when all of it was saved, otherwise why not; what was saved before the refusal stays saved.</summary>
    public async Task<string> SaveAsync(ObdOffer offer, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(offer);
        if (offer.Vin is { } vin)
        {
            return Words(await live.SaveFieldAsync(OrderField.VehicleVin, new FieldEntry(vin, live.Text(OrderField.VehicleVin), Guid.NewGuid())));
        }

        if (Refusal(offer) is { } refusal)
        {
            return refusal;
        }

        for (var i = 0; i < offer.Readings.Length; i++)
        {
            if (Words(await SaveAsync(offer.Readings[i] with { Stage = stage }, Id((offer.Key, i)))) is { Length: > 0 } problem)
            {
                return problem;
            }
        }

        return "";
    }

    /// <summary>Forgets the ids: the next offers are of another log.</summary>
    public void Begin() => _ids.Clear();

    private string? Refusal(ObdOffer offer)
    {
        if (offer.NeedsRevolutions)
        {
            return "Enter over how many revolutions the misfires were counted.";
        }

        if (live.Order.Vehicle.Engine is not { } spec || Engine.Create(spec) is not { IsValid: true } engine)
        {
            return "Choose the engine first.";
        }

        return offer.Readings
            .Select(r => ReadingCheck.Error(r, with.Knowledge.Test(r.Test)!, engine.Value))
            .FirstOrDefault(e => e is not null)?.Message;
    }

    private Task<SaveResult> SaveAsync(Reading reading, Guid id)
    {
        var added = new NewReading
        {
            Id = id,
            Reading = reading with { TakenAt = with.Time.GetUtcNow(), By = with.Tablet.By.Length > 0 ? with.Tablet.By : null },
        };
        return with.Commands.RunAsync(SaveReading.Kind, added.Id, CommandJson.Write(SaveReading.Of(live.Order.Id, added)), () => with.Orders.AddReadingAsync(live.Order.Id, added));
    }

    private Guid Id((string Offer, int Reading) key) => _ids.TryGetValue(key, out var id) ? id : _ids[key] = Guid.CreateVersion7();

    private static string Words(SaveResult result) => result.Outcome is SaveOutcome.Saved or SaveOutcome.AlreadySaved ? ""
        : result.Message.Length > 0 ? result.Message : string.Create(CultureInfo.InvariantCulture, $"Not saved ({result.Outcome}).");
}
