using System.Collections.Immutable;
using System.Text.Json;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>
/// Reads the earlier repairs of a comeback, the newest first: <c>[{"order":"order 1002","causes":[{"cause":"coil-failed","at":{"cylinder":4}}]}]</c>. Fitted is taken to be
/// what the repair of those causes asks for.
/// </summary>
internal static class EarlierJson
{
    private const string Name = "earlier";

    /// <summary>The repairs; empty when the member is absent.</summary>
    public static Parsed<ImmutableArray<EarlierRepair>> Read(JsonElement json, Engine engine, Knowledge knowledge) => JsonInput.Member(json, Name) is { } list
        ? JsonInput.List(list, Name, (element, at) => Repair(element, at, engine, knowledge))
        : ImmutableArray<EarlierRepair>.Empty;

    private static Parsed<EarlierRepair> Repair(JsonElement json, string at, Engine engine, Knowledge knowledge)
    {
        if (json.ValueKind != JsonValueKind.Object || JsonInput.Member(json, "causes") is not { } list)
        {
            return new InputError(at, "must be an object in braces with the list 'causes' of what was repaired.");
        }

        var order = JsonInput.Text(json, "order", "the earlier order");
        var causes = JsonInput.List(list, $"{at}.causes", (element, where) => Repaired(element, where, engine, knowledge));
        if ((order.Error?.Under(at) ?? causes.Error) is { } error)
        {
            return error;
        }

        return new EarlierRepair(order.Value, [.. causes.Value.Select(c => new ProvenCause(c.Cause.Id, c.At))], RepairPlan.For(engine, causes.Value).Parts);
    }

    private static Parsed<(Cause Cause, Place At)> Repaired(JsonElement json, string at, Engine engine, Knowledge knowledge)
    {
        if (json.ValueKind != JsonValueKind.Object || JsonInput.Member(json, "cause") is not { ValueKind: JsonValueKind.String } id || knowledge.Cause(id.GetString()!) is not { } cause)
        {
            return new InputError($"{at}.cause", "must be the id of a cause that is known here.");
        }

        foreach (var place in cause.PlacesOn(engine))
        {
            if (JsonInput.Member(json, "at") is { } said && JsonElement.DeepEquals(said, JsonSerializer.SerializeToElement(AssessmentJson.At(place))))
            {
                return (cause, place);
            }
        }

        return new InputError($"{at}.at", $"must be a place of this engine where '{cause.Id}' can sit, such as {{\"cylinder\":1}}, {{\"pair\":[1,4]}}, {{\"bank\":1}} or {{\"engine\":true}}.");
    }
}
