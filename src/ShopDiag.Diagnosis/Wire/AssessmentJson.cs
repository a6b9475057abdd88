using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Assessments and errors as they travel: one JSON object, one line.</summary>
public static class AssessmentJson
{
    private static readonly JsonSerializerOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>An assessment as one line.</summary>
    public static string Write(Assessment assessment)
    {
        ArgumentNullException.ThrowIfNull(assessment);
        return new JsonObject
        {
            ["id"] = assessment.Id,
            ["cylinders"] = List(assessment.Cylinders, c => new JsonObject
            {
                ["cylinder"] = c.Cylinder, ["state"] = Word(c.State), ["because"] = c.Because,
            }),
            ["causes"] = List(assessment.Causes, Cause),
            ["unlisted"] = Rounded(assessment.Unlisted),
            ["next"] = List(assessment.Next, Next),
            ["conclusion"] = assessment.Conclusion is { } conclusion ? ConclusionNode(conclusion) : null,
            ["contradictions"] = List(assessment.Contradictions, c => new JsonObject
            {
                ["readings"] = List(c.Readings, ProofNode), ["because"] = c.Because, ["retake"] = c.Retake, ["at"] = At(c.At),
            }),
            ["findings"] = List(assessment.Findings, Finding),
            ["warnings"] = List(assessment.Warnings, w => JsonValue.Create(w)!),
        }.ToJsonString(Options);
    }

    /// <summary>The answer to a line that could not be read.</summary>
    public static string WriteError(string? id, InputError error)
    {
        ArgumentNullException.ThrowIfNull(error);
        return new JsonObject
        {
            ["id"] = id, ["error"] = new JsonObject { ["at"] = error.At, ["message"] = error.Message },
        }.ToJsonString(Options);
    }

    /// <summary>A place: <c>{"cylinder":4}</c>, <c>{"pair":[4,6]}</c>, <c>{"bank":2}</c> or <c>{"engine":true}</c>.</summary>
    public static JsonObject At(Place place) => place.Kind switch
    {
        PlaceKind.Cylinder => new JsonObject { ["cylinder"] = place.First },
        PlaceKind.Pair => new JsonObject { ["pair"] = new JsonArray(place.First, place.Second) },
        PlaceKind.Bank => new JsonObject { ["bank"] = place.First },
        PlaceKind.Engine => new JsonObject { ["engine"] = true },
        _ => throw new InvalidOperationException($"Unknown kind of place {place.Kind}."),
    };

    private static JsonObject Cause(RankedCause cause)
    {
        var node = Ranked(cause);
        if (!cause.Earlier.IsEmpty)
        {
            node["earlier"] = List(cause.Earlier, e => new JsonObject { ["order"] = e.Order, ["effect"] = Math.Round(e.Bits, 4, MidpointRounding.AwayFromZero), ["because"] = e.Because });
        }

        return node;
    }

    private static JsonObject Ranked(RankedCause cause) => new()
    {
        ["cause"] = cause.Cause,
        ["at"] = At(cause.At),
        ["probability"] = Rounded(cause.Probability),
        ["proven"] = cause.Proven,
        ["evidence"] = List(cause.Evidence, e =>
        {
            var node = Located(e.Test, e.At);
            node["outcome"] = e.Outcome;
            if (e.Stage == Stage.After)
            {
                node["stage"] = "after";
            }

            node["effect"] = Math.Round(e.Bits, 4, MidpointRounding.AwayFromZero);
            node["because"] = e.Because;
            return node;
        }),
    };

    private static JsonObject Next(NextStepAdvice step)
    {
        var node = new JsonObject();
        if (step.Repair is { } repair)
        {
            node["repair"] = RepairNode(repair);
            if (step.Unproven)
            {
                node["proven"] = false;
            }
        }
        else
        {
            node["test"] = step.Test;
            if (step.Stage == Stage.After)
            {
                node["stage"] = "after";
            }
        }

        node["at"] = At(step.At);
        node["minutes"] = Math.Round(step.Minutes, 1, MidpointRounding.AwayFromZero);
        node["because"] = step.Because;
        node["cautions"] = List(step.Cautions, c => JsonValue.Create(c)!);
        return node;
    }

    private static JsonObject ConclusionNode(Conclusion conclusion) => new()
    {
        ["causes"] = List(conclusion.Causes, c => new JsonObject { ["cause"] = c.Cause, ["at"] = At(c.At) }),
        ["proof"] = List(conclusion.Proof, ProofNode),
        ["repair"] = RepairNode(conclusion.Repair),
    };

    private static JsonObject RepairNode(Repair repair) => new()
    {
        ["summary"] = repair.Summary,
        ["parts"] = List(repair.Parts, p => new JsonObject
        {
            ["part"] = p.Part, ["quantity"] = p.Quantity, ["at"] = At(p.At), ["mustMatch"] = p.MustMatch, ["together"] = p.Together,
        }),
        ["labourMinutes"] = repair.LabourMinutes,
        ["check"] = List(repair.Check, c => JsonValue.Create(c)!),
    };

    private static JsonObject ProofNode(ProofReading reading)
    {
        var node = Located(reading.Test, reading.At);
        node["outcome"] = reading.Outcome;
        node["because"] = reading.Because;
        return node;
    }

    private static JsonObject Finding(Finding finding)
    {
        var node = Located(finding.Test, finding.At);
        if (finding.Aspect != finding.Test)
        {
            node["aspect"] = finding.Aspect;
        }

        if (finding.Stage == Stage.After)
        {
            node["stage"] = "after";
        }

        node["outcome"] = finding.Outcome ?? "inconclusive";
        node["because"] = finding.Because;
        return node;
    }

    // A cylinder or bank stands beside the test, as in a reading; nothing for the engine.
    private static JsonObject Located(string test, Place at)
    {
        var node = new JsonObject { ["test"] = test };
        switch (at.Kind)
        {
            case PlaceKind.Cylinder:
                node["cylinder"] = at.First;
                break;
            case PlaceKind.Bank:
                node["bank"] = at.First;
                break;
        }

        return node;
    }

    private static string Word(CylinderCondition state) => state switch
    {
        CylinderCondition.Unknown => "unknown",
        CylinderCondition.Contributing => "contributing",
        CylinderCondition.Misfiring => "misfiring",
        CylinderCondition.Weak => "weak",
        CylinderCondition.Dead => "dead",
        CylinderCondition.CannotTell => "inconclusive",
        _ => throw new InvalidOperationException($"Unknown state {state}."),
    };

    private static double Rounded(double probability) => Math.Round(probability, 6, MidpointRounding.AwayFromZero);

    private static JsonArray List<T>(IEnumerable<T> items, Func<T, JsonNode> node) => new([.. items.Select(node)]);
}
