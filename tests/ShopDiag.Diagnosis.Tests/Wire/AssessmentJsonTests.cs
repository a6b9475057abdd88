using ShopDiag.Diagnosis.Tests.Workups;
using ShopDiag.Diagnosis.Wire;

namespace ShopDiag.Diagnosis.Tests.Wire;

public sealed class AssessmentJsonTests
{
    [Fact]
    public void An_assessment_line_has_the_members_of_the_interface()
    {
        var json = Lines.Json(AssessmentJson.Write(Lines.Assess(Lines.I4, [.. Lines.Balance(4, 2), Lines.Reading("spark-output", 2, """{"jumps":"none"}""")])));

        Assert.Equal("w", (string)json["id"]!);
        Assert.Equal("dead", (string)json["cylinders"]![1]!["state"]!);
        var cause = json["causes"]![0]!;
        Assert.Equal(2, (int)cause["at"]!["cylinder"]!);
        Assert.False((bool)cause["proven"]!);
        Assert.Contains(cause["evidence"]!.AsArray(), e => (string)e!["test"]! == "spark-output" && (double)e["effect"]! > 0 && ((string)e["because"]!).Length > 0);
        Assert.NotEmpty(json["next"]!.AsArray());
        Assert.Null(json["conclusion"]);
        Assert.Empty(json["contradictions"]!.AsArray());
        Assert.NotNull(json["warnings"]);
    }

    [Fact]
    public void After_a_conclusion_next_is_the_repair_and_then_the_check()
    {
        var json = Lines.Json(AssessmentJson.Write(Lines.Assess(
            Lines.I4, [.. Lines.Balance(4, 2), Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"none"}"""), Lines.Reading("coil-swap", 2, """{"swappedWith":1,"misfireMovedTo":1}""")])));

        Assert.Equal("coil-failed", (string)json["conclusion"]!["causes"]![0]!["cause"]!);
        Assert.NotNull(json["conclusion"]!["proof"]![0]!["because"]);
        Assert.NotNull(json["next"]![0]!["repair"]!["parts"]![0]!["part"]);
        Assert.Equal("after", (string)json["next"]![1]!["stage"]!);
    }

    [Theory]
    [InlineData("cylinder")]
    [InlineData("pair")]
    [InlineData("bank")]
    [InlineData("engine")]
    public void Each_kind_of_place_has_its_own_form(string kind)
    {
        var place = kind switch { "cylinder" => Place.Cylinder(4), "pair" => Place.Pair(6, 4), "bank" => Place.Bank(2), _ => Place.Engine };

        Assert.Equal(kind switch
        {
            "cylinder" => """{"cylinder":4}""", "pair" => """{"pair":[4,6]}""", "bank" => """{"bank":2}""", _ => """{"engine":true}""",
        }, AssessmentJson.At(place).ToJsonString());
    }
}
