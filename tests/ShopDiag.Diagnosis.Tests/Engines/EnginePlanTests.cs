using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.Engines;

/// <summary>The engine seen from above: every cylinder where it stands.</summary>
public sealed class EnginePlanTests
{
    public static TheoryData<string> Profiles => [.. Knowledge.Shipped.Profiles.Select(p => p.Id)];

    [Fact]
    public void An_engine_in_line_is_one_row_from_front_to_rear()
    {
        var plan = Plan("i4-1342-coil-on-plug-port");

        Assert.Equal("Front to rear: 1, 2, 3, 4", plan.InWords);
        Assert.Equal(1, plan.Banks);
        Assert.Equal((4.0, 1.0), (plan.Width, plan.Height));
        Assert.Equal([0.5, 1.5, 2.5, 3.5], plan.Cylinders.Select(c => c.X));
        Assert.All(plan.Cylinders, c => Assert.Equal(0.5, c.Y));
    }

    [Fact]
    public void A_V6_is_two_rows_with_the_second_set_back()
    {
        var plan = Plan("v6-60-odd-even");

        Assert.Equal("bank 1 front to rear: 1, 3, 5; bank 2 front to rear: 2, 4, 6", plan.InWords);
        Assert.Equal([1, 2, 3, 4, 5, 6], plan.Cylinders.Select(c => c.Cylinder));
        Assert.Equal([1, 2, 1, 2, 1, 2], plan.Cylinders.Select(c => c.Bank));
        Assert.True(plan.Cylinders[1].X > plan.Cylinders[0].X && plan.Cylinders[1].X < plan.Cylinders[2].X);
        Assert.True(plan.Cylinders[1].Y > plan.Cylinders[0].Y);
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Every_cylinder_has_a_place_of_its_own_inside_the_plan(string id)
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == id).Spec).Value;
        var plan = EnginePlan.Of(engine);

        Assert.Equal(engine.Cylinders, plan.Cylinders.Select(c => c.Cylinder));
        Assert.All(plan.Cylinders, c =>
        {
            Assert.Equal(engine.BankOf(c.Cylinder), c.Bank);
            Assert.InRange(c.X, 0.5, plan.Width - 0.5);
            Assert.InRange(c.Y, 0.5, plan.Height - 0.5);
        });
        foreach (var (one, other) in plan.Cylinders.SelectMany(a => plan.Cylinders.Where(b => b.Cylinder > a.Cylinder).Select(b => (a, b))))
        {
            Assert.True(Math.Max(Math.Abs(one.X - other.X), Math.Abs(one.Y - other.Y)) >= 1, $"{one.Cylinder} and {other.Cylinder} overlap");
        }
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Neighbours_of_a_bank_stand_one_pitch_apart(string id)
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == id).Spec).Value;
        var plan = EnginePlan.Of(engine);

        Assert.All(engine.NeighbourPairs, p =>
        {
            Assert.Equal(1, plan.Cylinders[p.Second - 1].X - plan.Cylinders[p.First - 1].X, 1e-9);
            Assert.Equal(plan.Cylinders[p.First - 1].Y, plan.Cylinders[p.Second - 1].Y);
        });
    }

    private static EnginePlan Plan(string id) => EnginePlan.Of(Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == id).Spec).Value);
}
