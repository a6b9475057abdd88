using System.Collections.Immutable;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Orders;

/// <summary>Where an order stands, in the words of the shop.</summary>
public static class StageWords
{
    /// <summary>The stages in the sequence of the work. An order made by mistake is in none of them.</summary>
    public static ImmutableArray<OrderStage> All { get; } = [.. Enum.GetValues<OrderStage>().Where(s => s != OrderStage.MadeByMistake)];

    /// <summary>Where it stands.</summary>
    public static string Of(OrderStage stage) => stage switch
    {
        OrderStage.WrittenUp => "Written up",
        OrderStage.InDiagnosis => "In diagnosis",
        OrderStage.AwaitingApproval => "Finding with the customer",
        OrderStage.AwaitingParts => "Approved, parts on their way",
        OrderStage.InRepair => "In repair",
        OrderStage.RepairCheck => "Repaired, being checked",
        OrderStage.Ready => "Ready for the customer",
        OrderStage.HandedOver => "Handed over",
        OrderStage.MadeByMistake => "Made by mistake, closed",
        _ => throw new InvalidOperationException($"Unknown stage {stage}."),
    };

    /// <summary>What it waits for; empty once the car is gone.</summary>
    public static string WaitsFor(OrderStage stage) => stage switch
    {
        OrderStage.WrittenUp => "a technician",
        OrderStage.InDiagnosis => "the finding",
        OrderStage.AwaitingApproval => "the customer's answer",
        OrderStage.AwaitingParts => "parts",
        OrderStage.InRepair => "the repair",
        OrderStage.RepairCheck => "readings after the repair",
        OrderStage.Ready => "the customer",
        OrderStage.HandedOver or OrderStage.MadeByMistake => "",
        _ => throw new InvalidOperationException($"Unknown stage {stage}."),
    };

    /// <summary>The next stage, or null at the end.</summary>
    public static OrderStage? Next(OrderStage stage) => stage.IsOpen() ? stage + 1 : null;

    /// <summary>What is said on the button that leads to a stage from the one before.</summary>
    public static string StepTo(OrderStage stage) => stage switch
    {
        OrderStage.WrittenUp => "Back to the counter",
        OrderStage.InDiagnosis => "Start the diagnosis",
        OrderStage.AwaitingApproval => "The finding goes to the customer",
        OrderStage.AwaitingParts => "The customer said yes: get the parts",
        OrderStage.InRepair => "Parts are here: start the repair",
        OrderStage.RepairCheck => "Repaired: check it",
        OrderStage.Ready => "Checked: ready for the customer",
        OrderStage.HandedOver => "Hand over",
        OrderStage.MadeByMistake => "Close it as made by mistake",
        _ => throw new InvalidOperationException($"Unknown stage {stage}."),
    };

    /// <summary>The first six words of a concern, for a list.</summary>
    public static string SixWords(string concern)
    {
        ArgumentNullException.ThrowIfNull(concern);
        var words = concern.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        return words.Length <= 6 ? string.Join(' ', words) : string.Join(' ', words[..6]) + "\u00A0…";
    }
}
