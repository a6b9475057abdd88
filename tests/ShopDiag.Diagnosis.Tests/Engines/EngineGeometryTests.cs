using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.Engines;

/// <summary>
/// Companions, neighbours and intervals are derived from firing order and banks. Firing orders: Wikipedia, firing orders and cylinder
/// numbering; companions computed, those of 1-6-5-4-3-2 printed in Halderman and Linder, p. 361.
/// </summary>
public sealed class EngineGeometryTests
{
    // D22: every row of the table: layout, banks, firing order, companions.
    public static TheoryData<string, string, string, string> Rows => new()
    {
        { "I3", "1,2,3", "1-3-2", "" },
        { "I3", "1,2,3", "1-2-3", "" },
        { "I4", "1,2,3,4", "1-3-4-2", "1-4, 2-3" },
        { "I4", "1,2,3,4", "1-2-4-3", "1-4, 2-3" },
        { "I5", "1,2,3,4,5", "1-2-4-5-3", "" },
        { "I6", "1,2,3,4,5,6", "1-5-3-6-2-4", "1-6, 2-5, 3-4" },
        { "V6", "1,3,5|2,4,6", "1-2-3-4-5-6", "1-4, 2-5, 3-6" },
        { "V6", "1,3,5|2,4,6", "1-6-5-4-3-2", "1-4, 2-5, 3-6" },
        { "V6", "1,2,3|4,5,6", "1-4-2-5-3-6", "1-5, 2-6, 3-4" },
        { "V6", "1,2,3|4,5,6", "1-4-3-6-2-5", "1-6, 2-4, 3-5" },
        { "H4", "1,2|3,4", "1-4-3-2", "1-3, 2-4" },
        { "H6", "1,2,3|4,5,6", "1-6-2-4-3-5", "1-4, 2-5, 3-6" },
        { "V8", "1,3,5,7|2,4,6,8", "1-8-4-3-6-5-7-2", "1-6, 2-3, 4-7, 5-8" },
        { "V8", "1,2,3,4|5,6,7,8", "1-5-4-2-6-3-7-8", "1-6, 2-8, 3-5, 4-7" },
        { "V8", "1,2,3,4|5,6,7,8", "1-5-4-8-6-3-7-2", "1-6, 2-8, 3-5, 4-7" },
        { "V10", "1,3,5,7,9|2,4,6,8,10", "1-10-9-4-3-6-5-8-7-2", "1-6, 2-3, 4-7, 5-10, 8-9" },
        { "V10", "1,2,3,4,5|6,7,8,9,10", "1-6-5-10-2-7-3-8-4-9", "1-7, 2-9, 3-6, 4-10, 5-8" },
        { "V12", "1,2,3,4,5,6|7,8,9,10,11,12", "1-7-5-11-3-9-6-12-2-8-4-10", "1-6, 2-5, 3-4, 7-12, 8-11, 9-10" },
        { "V12", "1,2,3,4,5,6|7,8,9,10,11,12", "1-12-5-8-3-10-6-7-2-11-4-9", "1-6, 2-5, 3-4, 7-12, 8-11, 9-10" },
    };

    [Theory]
    [MemberData(nameof(Rows))]
    public void Companions_fire_one_turn_apart(string layout, string banks, string order, string companions)
    {
        var engine = Make(layout, banks, order);

        Assert.Equal(companions, string.Join(", ", engine.CompanionPairs.Order().Select(p => $"{p.First}-{p.Second}")));
        foreach (var pair in engine.CompanionPairs)
        {
            Assert.Equal(pair.Second, engine.Companion(pair.First));
            Assert.Equal(pair.First, engine.Companion(pair.Second));
        }

        Assert.All(engine.Cylinders, c => Assert.Equal(engine.CylinderCount % 2 == 0, engine.Companion(c) is not null));
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Every_row_of_the_table_ships_as_a_profile(string layout, string banks, string order, string companions)
    {
        var engine = Make(layout, banks, order);
        var shipped = Knowledge.Shipped.Profiles.Select(p => p.Spec).Where(s => s.Layout == layout && s.FiringOrder.SequenceEqual(engine.FiringOrder)
            && s.Banks.Select(b => string.Join(',', b)).SequenceEqual(engine.Banks.Select(b => string.Join(',', b))));

        Assert.True(shipped.Any(), $"{layout} {order} with companions {companions}");
    }

    [Theory]
    [InlineData("I4", "1,2,3,4", "1-3-4-2", "1-2, 2-3, 3-4")]
    [InlineData("V8", "1,3,5,7|2,4,6,8", "1-8-4-3-6-5-7-2", "1-3, 2-4, 3-5, 4-6, 5-7, 6-8")]
    [InlineData("V6", "1,2,3|4,5,6", "1-4-2-5-3-6", "1-2, 2-3, 4-5, 5-6")]
    [InlineData("H4", "1,3|2,4", "1-3-2-4", "1-3, 2-4")]
    public void Neighbours_come_from_the_bank_list_not_from_the_numbers(string layout, string banks, string order, string neighbours)
    {
        var engine = Make(layout, banks, order);

        Assert.Equal(neighbours, string.Join(", ", engine.NeighbourPairs.Order().Select(p => $"{p.First}-{p.Second}")));
        foreach (var cylinder in engine.Cylinders)
        {
            var beside = engine.NeighbourPairs.Where(p => p.First == cylinder || p.Second == cylinder).Select(p => p.First == cylinder ? p.Second : p.First);
            Assert.Equal(beside.Order(), engine.Neighbours(cylinder).Order());
        }
    }

    [Theory]
    [InlineData(3, 240)]
    [InlineData(4, 180)]
    [InlineData(5, 144)]
    [InlineData(6, 120)]
    [InlineData(8, 90)]
    [InlineData(10, 72)]
    [InlineData(12, 60)]
    public void The_firing_interval_is_720_over_the_cylinders(int cylinders, double degrees)
    {
        var engine = InLine(cylinders);

        Assert.Equal(degrees, engine.FiringInterval);
        Assert.Equal(Enumerable.Repeat(degrees, cylinders), engine.FiringIntervals);
        Assert.True(engine.IsEvenFire);
    }

    // D23: firing frequency = rpm * N / 120; one misfiring cylinder shows at rpm / 120.
    [Theory]
    [InlineData(4, 25)]
    [InlineData(6, 37.5)]
    [InlineData(8, 50)]
    [InlineData(3, 18.75)]
    public void D23_at_750_rpm_the_firings_come_at(int cylinders, double hertz)
    {
        Assert.Equal(hertz, InLine(cylinders).FiringFrequencyHz(750), 1e-12);
        Assert.Equal(6.25, Engine.HalfOrderHz(750), 1e-12);
    }

    // From memory: the odd-fire 90 degree V6 fires 150 and 90 degrees apart by turns.
    [Fact]
    public void An_odd_fire_engine_keeps_its_intervals_and_has_no_companions_a_turn_apart()
    {
        var engine = Engine.Create(Spec("V6", "1,3,5|2,4,6", "1-6-5-4-3-2") with { FiringIntervals = [150, 90, 150, 90, 150, 90] }).Value;

        Assert.False(engine.IsEvenFire);
        Assert.Equal([150, 90, 150, 90, 150, 90], engine.FiringIntervals);
        Assert.All(engine.Cylinders, c => Assert.Null(engine.Companion(c)));
        Assert.Empty(engine.CompanionPairs);
    }

    [Fact]
    public void Odd_intervals_that_repeat_each_turn_leave_the_companions()
    {
        var engine = Engine.Create(Spec("H4", "1,3|2,4", "1-3-2-4") with { FiringIntervals = [170, 190, 170, 190] }).Value;

        Assert.False(engine.IsEvenFire);
        Assert.Equal(2, engine.Companion(1));
        Assert.Equal(4, engine.Companion(3));
    }

    [Fact]
    public void Equal_intervals_written_out_are_even_fire()
    {
        var engine = Engine.Create(Spec("I4", "1,2,3,4", "1-3-4-2") with { FiringIntervals = [180, 180, 180, 180] }).Value;

        Assert.True(engine.IsEvenFire);
        Assert.Equal(4, engine.Companion(1));
    }

    [Fact]
    public void The_one_that_fires_before_is_the_one_before_it_in_the_order()
    {
        var engine = Make("V6", "1,2,3|4,5,6", "1-4-2-5-3-6");

        Assert.Equal(6, engine.FiresBefore(1));
        Assert.Equal(1, engine.FiresBefore(4));
        Assert.Equal(0, engine.FiringPosition(1));
        Assert.Equal(5, engine.FiringPosition(6));
    }

    [Fact]
    public void Places_are_on_the_engine_or_not()
    {
        var engine = Make("V6", "1,3,5|2,4,6", "1-2-3-4-5-6");

        Assert.Equal([2, 4, 6], engine.CylindersAt(Place.Bank(2)));
        Assert.Equal([3, 6], engine.CylindersAt(Place.Pair(6, 3)));
        Assert.Equal(6, engine.CylindersAt(Place.Engine).Count());
        Assert.Equal(2, engine.BankOf(4));
        Assert.True(engine.Has(Place.Cylinder(6)) && engine.Has(Place.Bank(2)) && engine.Has(Place.Pair(5, 6)) && engine.Has(Place.Engine));
        Assert.False(engine.Has(Place.Cylinder(7)) || engine.Has(Place.Bank(3)) || engine.Has(Place.Pair(6, 7)));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BankOf(7));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.Companion(0));
    }

    [Fact]
    public void A_bank_without_access_minutes_costs_nothing_extra()
    {
        var engine = Engine.Create(Spec("V6", "1,3,5|2,4,6", "1-2-3-4-5-6") with { AccessMinutes = ImmutableDictionary<int, double>.Empty.Add(2, 40) }).Value;

        Assert.Equal(0, engine.AccessMinutes(1));
        Assert.Equal(40, engine.AccessMinutes(2));
    }

    [Fact]
    public void On_any_even_engine_the_companion_of_a_companion_is_the_cylinder_itself() =>
        Gen.Int[1, 8].SelectMany(half => Gen.Shuffle(Enumerable.Range(1, 2 * half).ToArray())).Sample(
            order =>
            {
                var engine = Engine.Create(Spec("I", string.Join(',', order.Order()), string.Join('-', order))).Value;
                return engine.CompanionPairs.Length == order.Length / 2
                    && engine.Cylinders.All(c => engine.Companion(c) is { } other && other != c && engine.Companion(other) == c
                        && Math.Abs(engine.FiringPosition(c) - engine.FiringPosition(other)) == order.Length / 2);
            },
            iter: 200);

    internal static EngineSpec Spec(string layout, string banks, string order) => new()
    {
        Layout = layout,
        Banks = [.. banks.Split('|').Select(b => Numbers(b, ','))],
        FiringOrder = Numbers(order, '-'),
        Ignition = Ignition.CoilOnPlug,
        Injection = Injection.Port,
    };

    private static Engine Make(string layout, string banks, string order) => Engine.Create(Spec(layout, banks, order)).Value;

    private static Engine InLine(int cylinders) =>
        Make($"I{cylinders}", string.Join(',', Enumerable.Range(1, cylinders)), string.Join('-', Enumerable.Range(1, cylinders)));

    private static ImmutableArray<int> Numbers(string text, char separator) =>
        [.. text.Split(separator).Select(n => int.Parse(n, System.Globalization.CultureInfo.InvariantCulture))];
}
