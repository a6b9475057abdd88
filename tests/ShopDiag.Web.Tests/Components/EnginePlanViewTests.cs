using System.Globalization;
using Bunit;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Web.Components.EngineViews;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Components;

public sealed class EnginePlanViewTests : PageTest
{
    private static readonly Engine V6 = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == "v6-60-odd-even").Spec).Value;

    [Fact]
    public void Every_cylinder_of_every_generic_engine_is_drawn_once_inside_the_picture()
    {
        foreach (var profile in Knowledge.Shipped.Profiles)
        {
            var engine = Engine.Create(profile.Spec).Value;
            var plan = Render<EnginePlanView>(p => p.Add(c => c.Engine, engine));
            Assert.Equal(engine.Cylinders, plan.FindAll(".plan-cylinder").Select(c => int.Parse(c.GetAttribute("data-cylinder")!, CultureInfo.InvariantCulture)));
            var size = Numbers(plan.Find("svg").GetAttribute("viewBox")!);
            foreach (var cell in plan.FindAll(".plan-cell"))
            {
                var (x, y, wide, high) = (Number(cell, "x"), Number(cell, "y"), Number(cell, "width"), Number(cell, "height"));
                Assert.True(x >= 0 && y >= 0 && x + wide <= size[2] && y + high <= size[3], $"{profile.Id}: {cell.OuterHtml} is outside {string.Join(' ', size)}");
            }
        }
    }

    [Fact]
    public void No_two_cylinders_overlap()
    {
        foreach (var profile in Knowledge.Shipped.Profiles)
        {
            var cells = Render<EnginePlanView>(p => p.Add(c => c.Engine, Engine.Create(profile.Spec).Value)).FindAll(".plan-cell")
                .Select(c => (X: Number(c, "x"), Y: Number(c, "y"), W: Number(c, "width"), H: Number(c, "height"))).ToList();
            for (var i = 0; i < cells.Count; i++)
            {
                for (var j = i + 1; j < cells.Count; j++)
                {
                    var (a, b) = (cells[i], cells[j]);
                    Assert.True(a.X + a.W <= b.X || b.X + b.W <= a.X || a.Y + a.H <= b.Y || b.Y + b.H <= a.Y, $"{profile.Id}: {a} and {b}");
                }
            }
        }
    }

    [Fact]
    public void What_is_known_is_said_by_word_pattern_and_length()
    {
        var plan = Render<EnginePlanView>(p => p.Add(c => c.Engine, V6).Add(c => c.Marks,
            [CylinderMark.Of(new(4, CylinderCondition.Dead, "no drop when cancelled")), CylinderMark.Of(new(2, CylinderCondition.Contributing, ""))]));
        var dead = plan.Find("[data-cylinder='4']");
        Assert.Equal("cross", dead.GetAttribute("data-pattern"));
        Assert.Equal("dead", dead.QuerySelector(".plan-word")!.TextContent);
        Assert.True(Number(dead.QuerySelector(".plan-bar")!, "width") < Number(plan.Find("[data-cylinder='2'] .plan-bar"), "width"));
        Assert.Contains("Cylinder 4 dead.", plan.Find("desc").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_condition_has_a_pattern_of_its_own()
    {
        var patterns = Enum.GetValues<CylinderCondition>().Select(c => CylinderMark.Of(new(1, c, "")).Pattern).ToList();
        Assert.Equal(patterns.Count, patterns.Distinct().Count());
    }

    [Fact]
    public void As_a_picture_it_has_a_name_and_no_buttons()
    {
        var plan = Render<EnginePlanView>(p => p.Add(c => c.Engine, V6));
        var picture = plan.Find("svg");
        Assert.Equal("img", picture.GetAttribute("role"));
        Assert.All(picture.GetAttribute("aria-labelledby")!.Split(' '), id => Assert.NotEmpty(plan.Find("#" + id).TextContent));
        Assert.Contains("bank 1 front to rear: 1, 3, 5", plan.Find("desc").TextContent, StringComparison.Ordinal);
        Assert.Empty(plan.FindAll("button"));
    }

    [Fact]
    public void A_touch_says_which_cylinder_and_the_chosen_one_is_marked()
    {
        var touched = 0;
        var plan = Render<EnginePlanView>(p => p.Add(c => c.Engine, V6).Add(c => c.Selected, 3).Add(c => c.OnCylinder, (int c) => touched = c)
            .Add(c => c.Marks, [CylinderMark.Of(new(5, CylinderCondition.Weak, "half the drop of the others"))]));
        Assert.Equal(6, plan.FindAll("button").Count);
        plan.Find("button[aria-label^='Cylinder 5']").Click();
        Assert.Equal(5, touched);
        Assert.Equal("Cylinder 3: nothing known yet", plan.Find("button[aria-pressed=true]").GetAttribute("aria-label"));
        Assert.Equal("Cylinder 5: weak. half the drop of the others", plan.Find("button[aria-label^='Cylinder 5']").GetAttribute("aria-label"));
    }

    [Fact]
    public void Numbers_in_the_drawing_keep_their_point_in_a_culture_with_a_comma()
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
        try
        {
            var markup = Render<EnginePlanView>(p => p.Add(c => c.Engine, V6).Add(c => c.OnCylinder, (int _) => { })).Markup;
            Assert.DoesNotMatch(@"(x|y|width|height|left|top)[=:]""?\d+,\d", markup);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static double Number(AngleSharp.Dom.IElement element, string attribute) => double.Parse(element.GetAttribute(attribute)!, CultureInfo.InvariantCulture);

    private static double[] Numbers(string text) => [.. text.Split(' ').Select(t => double.Parse(t, CultureInfo.InvariantCulture))];
}
