using System.Collections.Frozen;
using System.Globalization;
using System.Text.RegularExpressions;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Api;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.People;

/// <summary>Entries of the record in words. One of a kind that is not known stands as it was written.</summary>
public static partial class AuditWords
{
    private static readonly FrozenDictionary<string, string> Fields = new Dictionary<string, string>
    {
        ["CustomerName"] = "Customer's name", ["CustomerPhone"] = "Customer's telephone", ["CustomerEmail"] = "Customer's e-mail", ["VehiclePlate"] = "Plate", ["VehicleVin"] = "VIN",
        ["VehicleDescription"] = "Make and model", ["VehicleYear"] = "Model year", ["Odometer"] = "Odometer", ["OdometerUnit"] = "Odometer counts", ["ConcernText"] = "Concern",
        ["ConcernCodes"] = "Trouble codes", ["ConcernLamp"] = "Warning lamp", ["ConcernWhen"] = "When it happens", ["Technician"] = "Technician", ["PromisedAt"] = "Promised for",
        ["AuthorisedMinutes"] = "Diagnostic minutes authorised", ["DiagnosisPriceMinor"] = "Price of the diagnosis", ["MinutesSpent"] = "Diagnostic minutes spent",
        ["WrittenConcern"] = "Concern as written up", ["WrittenCause"] = "Cause as written up", ["CodesCleared"] = "Codes cleared after the repair", ["MonitorsNoted"] = "Monitors after the repair", ["WrittenCorrection"] = "Correction as written up",
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<string, string> Plain = new Dictionary<string, string>
    {
        ["open order"] = "Order written up", ["use vehicle"] = "Known car put on the order", ["set engine"] = "Engine", ["set finding"] = "Finding", ["draft estimate"] = "Estimate made of the finding",
        ["go ahead without proof"] = "Parts let go on without proof", ["approval"] = "What the customer said to the estimate written down", ["add reading"] = "Reading", ["correct reading"] = "Reading corrected",
        ["take reading back"] = "Reading taken back", ["add obstacle"] = "Said that it cannot be taken", ["end obstacle"] = "Can be taken after all", ["add photo"] = "Photo", ["photo Caption"] = "Caption of a photo", ["photo Marks"] = "Marks on a photo", ["print photo"] = "Photo put into the customer report",
        ["do not print photo"] = "Photo left out of the customer report", ["delete photo"] = "Photo deleted", ["get photo back"] = "Photo got back", ["add recording"] = "Recording of a balance run",
        ["delete recording"] = "Recording deleted", ["get recording back"] = "Recording got back", ["start shop"] = "Shop started", ["import prices"] = "Prices read in", ["save price"] = "Price saved",
        ["remove price"] = "Price taken off", ["set up"] = "Shop set up", ["add person"] = "Person added", ["let back in"] = "Let back in", ["shut out"] = "Shut out", ["reset owner"] = "Owner reset from the console", ["reset password"] = "Password to hand over made for",
        ["remove PIN"] = "PIN removed", ["set PIN"] = "PIN set", ["change password"] = "Password changed", ["sign out everywhere"] = "Signed out everywhere", ["remember device"] = "Device remembered",
        ["forget device"] = "Device forgotten", ["make token"] = "Token made", ["revoke token"] = "Token revoked", ["sign in"] = "Signed in", ["sign out"] = "Signed out", ["wrong password"] = "Wrong password", ["password blocked"] = "Password blocked after too many wrong ones",
        ["add passkey"] = "Passkey added", ["remove passkey"] = "Passkey removed", ["wrong passkey"] = "Passkey that is not known", ["wrong PIN"] = "Wrong PIN", ["PIN blocked"] = "PIN blocked after too many wrong ones", ["set role Technician"] = "Made technician", ["set role Advisor"] = "Made advisor", ["set role Owner"] = "Made owner",
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<string, string> Lamps = new Dictionary<string, string>
    {
        [nameof(Lamp.Unknown)] = "not said", [nameof(Lamp.Off)] = "off", [nameof(Lamp.Steady)] = "lit steadily", [nameof(Lamp.Flashing)] = "flashing",
    }.ToFrozenDictionary();

    /// <summary>The entry in words; amounts in the currency of the shop.</summary>
    public static string Of(AuditEntry entry, Knowledge knowledge, string currency)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(knowledge);
        var what = Id().Replace(entry.What, "").Trim();
        return Title(what) + (what == "make token" ? Token(entry.After) : what is "add obstacle" or "end obstacle" ? Test(entry.After, knowledge, engine: "on this car")
            : what is "add reading" or "correct reading" or "take reading back" or "add photo" ? Test(entry.After, knowledge) : Change(Plainly(entry, what, knowledge, currency)));
    }

    // What is kept as an id or in the smallest coin is said as the pages say it.
    private static AuditEntry Plainly(AuditEntry entry, string what, Knowledge knowledge, string currency)
    {
        Func<string, string>? say = what switch
        {
            "set DiagnosisPriceMinor" => kept => long.TryParse(kept, CultureInfo.InvariantCulture, out var minor) ? Money.Say(minor, currency) : kept,
            "set ConcernLamp" => kept => Lamps.GetValueOrDefault(kept, kept),
            "set finding" => kept => string.Join(", ", kept.Split(", ").Select(id => knowledge.Cause(id)?.Title ?? id)),
            _ => null,
        };
        return say is null ? entry : entry with { Before = entry.Before is { Length: > 0 } before ? say(before) : entry.Before, After = entry.After is { Length: > 0 } after ? say(after) : entry.After };
    }

    private static string Title(string what) => what switch
    {
        _ when Plain.TryGetValue(what, out var plain) => plain,
        ['s', 'e', 't', ' ', .. var field] when Fields.TryGetValue(field, out var label) => label,
        _ when what.StartsWith("move to ", StringComparison.Ordinal) && Enum.TryParse<OrderStage>(what["move to ".Length..], out var stage) => $"Moved to: {StageWords.Of(stage)}",
        _ when what.StartsWith("comeback ", StringComparison.Ordinal) => "Comeback or not",
        _ when what.StartsWith("part to ", StringComparison.Ordinal) || what.Contains("of part", StringComparison.Ordinal) || what.StartsWith("old part", StringComparison.Ordinal) => "Part",
        _ when LineField().Match(what) is { Success: true } line => $"{line.Groups[1].Value} of an estimate line",
        "add line" => "Estimate line added",
        "take off line" => "Estimate line taken off",
        "put back line" => "Estimate line put back",
        ['s', 'e', 't', ' ', .. var setting] => $"Setting {setting}",
        _ => what,
    };

    // The stage of a move stands in its title; what follows it there is the reason.
    private static string Change(AuditEntry entry) => (entry.Before, entry.After) switch
    {
        _ when entry.What.StartsWith("move to ", StringComparison.Ordinal) => entry.After?.IndexOf(": ", StringComparison.Ordinal) is { } at and >= 0 ? $". {entry.After[(at + 2)..]}" : "",
        (null or "", null or "") => "",
        (null or "", { } after) => $": {after}",
        ({ } before, { } after) when before == after => $": {after}",
        ({ } before, null or "") => $": {before} → nothing",
        ({ } before, { } after) => $": {before} → {after}",
    };

    // The name may hold anything; what it may do stands behind the last colon.
    private static string Token(string? after) => after?.LastIndexOf(": ", StringComparison.Ordinal) is { } at and > 0
        ? $": {after[..at]}; may: {string.Join(", ", after[(at + 2)..].Split(", ").Select(g => Enum.TryParse<TokenGrant>(g, out var grant) && Enum.IsDefined(grant) ? ProgramWords.Of(grant) : g))}"
        : "";

    // What cannot be taken at the engine cannot be taken at any cylinder.
    private static string Test(string? after, Knowledge knowledge, string? engine = null) => after?.Split(", ", 2) is [var test, .. var place]
        ? $": {knowledge.Test(test)?.Title ?? test}{(place is [var where] ? $", {(where == Place.Engine.ToString() ? engine ?? where : where)}" : "")}"
        : "";

    [GeneratedRegex("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}", RegexOptions.IgnoreCase)]
    private static partial Regex Id();

    [GeneratedRegex(@"^set (\w+) of line$")]
    private static partial Regex LineField();
}
