using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>Laws that hold for any workup.</summary>
public sealed class DiagnosticianLawTests
{
    private static readonly Engine V6 = Lines.Workup(Lines.V6, []).Engine;
    private static readonly Engine I4 = Lines.Workup(Lines.I4WasteSpark, []).Engine;

    private static readonly Gen<Workup> AnyWorkup =
        from engine in Gen.OneOf(V6, I4)
        from readings in AnyReading(engine).Array[0, 14]
        select new Workup { Id = "w", Engine = engine, Readings = [.. readings] };

    [Fact]
    public void Probabilities_stay_in_bounds_and_single_faults_add_up_to_at_most_one() => AnyWorkup.Sample(
        workup =>
        {
            var answer = Diagnostician.Assess(workup, Knowledge.Shipped);
            return answer.Causes.All(c => c.Probability is >= 0 and <= 1 && double.IsFinite(c.PriorBits) && c.Evidence.All(e => double.IsFinite(e.Bits)))
                && answer.Unlisted is >= 0 and <= 1
                // A pair counts in both of its parts, so the sum over all causes lies between 1 and 2.
                && answer.Causes.Sum(c => c.Probability) + answer.Unlisted is >= 1 - 1e-9 and <= 2 + 1e-9;
        },
        iter: 60);

    [Fact]
    public void The_order_of_entry_does_not_change_the_answer() => AnyWorkup.SelectMany(w => Gen.Shuffle(w.Readings.ToArray()).Select(s => (w, s))).Sample(
        (workup, shuffled) =>
        {
            var one = Diagnostician.Assess(workup, Knowledge.Shipped);
            var other = Diagnostician.Assess(workup with { Readings = [.. shuffled] }, Knowledge.Shipped);
            return Wire.WireText.Of(one) == Wire.WireText.Of(other);
        },
        iter: 50);

    [Fact]
    public void Renumbering_the_cylinders_renumbers_the_answer() =>
        Gen.Select(AnyReading(V6).Array[0, 10], Gen.Shuffle(Enumerable.Range(1, 6).ToArray())).Sample(
            (readings, to) =>
            {
                // Trouble codes name cylinders in their text, so they are left out here.
                var plain = readings.Where(r => r.Test != "trouble-codes").ToArray();
                int Map(int cylinder) => to[cylinder - 1];
                var renumbered = Engine.Create(V6.Spec with
                {
                    Banks = [.. V6.Banks.Select(b => b.Select(Map).ToImmutableArray())], FiringOrder = [.. V6.FiringOrder.Select(Map)],
                }).Value;
                var one = Diagnostician.Assess(new Workup { Engine = V6, Readings = [.. plain] }, Knowledge.Shipped);
                var other = Diagnostician.Assess(new Workup { Engine = renumbered, Readings = [.. plain.Select(r => Renumber(r, Map))] }, Knowledge.Shipped);
                return one.Causes.All(c => Math.Abs(c.Probability - other.Cause(c.Cause, Renumber(c.At, Map)).Probability) < 1e-9);
            },
            iter: 40);

    [Fact]
    public void A_first_good_reading_at_a_cylinder_never_raises_suspicion_of_it() =>
        Gen.Select(AnyReading(V6).Array[0, 8], GoodReading, Gen.Int[1, 6]).Sample(
            (readings, good, cylinder) =>
            {
                var reading = good with { At = Place.Cylinder(cylinder) };
                // Beside an odd reading there a good one may well point to another cause: a tight cylinder with low compression to its cam timing, a sound winding
                // of an injector that sounds wrong to its needle. And a further trial of a test changes what the trials come to.
                var before = readings.Where(r => r.Test != reading.Test && r.At != reading.At).ToArray();
                var one = Diagnostician.Assess(new Workup { Engine = V6, Readings = [.. before] }, Knowledge.Shipped);
                var other = Diagnostician.Assess(new Workup { Engine = V6, Readings = [.. before, reading] }, Knowledge.Shipped);
                return other.Suspicion(V6, cylinder) <= one.Suspicion(V6, cylinder) + 1e-9;
            },
            iter: 60);

    [Fact]
    public void No_single_reading_makes_a_cause_certain_unless_it_is_proof() =>
        AnyReading(V6).Sample(
            reading => Diagnostician.Assess(new Workup { Engine = V6, Readings = [reading] }, Knowledge.Shipped)
                .Causes.All(c => c.Proven || c.Probability < 0.95),
            iter: 40);

    [Fact]
    public void What_is_suggested_fits_the_engine_and_has_not_been_confirmed_already() => AnyWorkup.Sample(
        workup =>
        {
            var answer = Diagnostician.Assess(workup, Knowledge.Shipped);
            return answer.Next.Where(n => n.Test is not null).All(n =>
                Knowledge.Shipped.Test(n.Test!)!.Fits(workup.Engine) && n.Minutes > 0 && n.Because.Length > 0
                && (n.Stage == Stage.After || answer.Contradictions.Any(c => c.Retake == n.Test && c.At == n.At)
                    || !answer.Findings.Any(f => f.Test == n.Test && f.Aspect == n.Test && f.At == n.At && f.Outcome is not null && n.At.Kind != PlaceKind.Engine && IsConfirmed(f))));
        },
        iter: 50);

    // Read twice and more, with one answer: a third time tells nothing.
    private static bool IsConfirmed(Finding finding) => !finding.Trials.IsEmpty && finding.Trials.All(t => t == finding.Outcome);

    private static Gen<Reading> GoodReading => Gen.OneOf(
        Of("spark-output", 1, ("jumps", FieldValue.Of("steady"))),
        Of("coil-feed", 1, ("volts", FieldValue.Of(12.5))),
        Of("coil-control", 1, ("signal", FieldValue.Of("present"))),
        Of("plug-condition", 1, ("look", FieldValue.Of("normal")), ("gapMm", FieldValue.Of(1.0))),
        Of("injector-sound", 1, ("sound", FieldValue.Of("ticking"))),
        Of("injector-resistance", 1, ("ohm", FieldValue.Of(12.5)), ("celsius", FieldValue.Of(20))),
        Of("injector-control", 1, ("signal", FieldValue.Of("pulsing"))),
        Of("intake-leak", 1, ("found", FieldValue.Of("no"))),
        Of("compression-dry", 1, ("kPa", FieldValue.Of(1200))),
        Of("leak-down", 1, ("percent", FieldValue.Of(6)), ("hear", FieldValue.Of("none"))));

    private static Gen<Reading> AnyReading(Engine engine)
    {
        var tests = Knowledge.Shipped.Tests.Where(t => t.Fits(engine)).ToArray();
        return from test in Gen.OneOf(tests)
               from place in Gen.OneOf(test.PlacesOn(engine).ToArray())
               from value in ValueOf(test, place, engine)
               select new Reading { Test = test.Id, At = place, Value = value };
    }

    private static Gen<ReadingValue> ValueOf(BenchTest test, Place place, Engine engine) => test.Fields
        .Select(f => FieldOf(f, place, engine).Select(v => new KeyValuePair<string, FieldValue>(f.Name, v)))
        .Aggregate(Gen.Const(ImmutableArray<KeyValuePair<string, FieldValue>>.Empty), (all, one) => Gen.Select(all, one, (a, o) => a.Add(o)))
        .Select(fields => new ReadingValue(fields));

    private static Gen<FieldValue> FieldOf(TestField field, Place place, Engine engine) => field.Kind switch
    {
        FieldKind.Number => Gen.Double[field.LikelyMin ?? field.Min ?? 0, field.LikelyMax ?? field.Max ?? 1000].Select(n => FieldValue.Of(Math.Round(n, 2))),
        FieldKind.Choice or FieldKind.Choices => Gen.OneOf(field.Choices.Select(c => FieldValue.Of(c.Id)).ToArray()),
        FieldKind.Cylinder => Gen.OneOf(engine.Cylinders.Where(c => Place.Cylinder(c) != place).Select(c => FieldValue.Of(c)).ToArray()),
        FieldKind.Codes => Gen.OneOf(FieldValue.Of("P0302"), FieldValue.Of("P0171"), FieldValue.Of("P0353", "P0303"), FieldValue.Of("P0300")),
        FieldKind.Text => Gen.Const(FieldValue.Of("note")),
        _ => throw new InvalidOperationException($"Unknown kind {field.Kind}."),
    };

    private static Reading Of(string test, int cylinder, params (string Field, FieldValue Value)[] fields) => new()
    {
        Test = test, At = Place.Cylinder(cylinder), Value = new ReadingValue(fields.Select(f => new KeyValuePair<string, FieldValue>(f.Field, f.Value))),
    };

    private static Reading Renumber(Reading reading, Func<int, int> map) => reading with
    {
        At = Renumber(reading.At, map),
        Value = new ReadingValue(reading.Value.Fields.Select(f => new KeyValuePair<string, FieldValue>(
            f.Key, f.Key is "swappedWith" or "misfireMovedTo" && f.Value.Numbers.Length == 1 ? FieldValue.Of(map((int)f.Value.Numbers[0])) : f.Value))),
    };

    private static Place Renumber(Place place, Func<int, int> map) => place.Kind switch
    {
        PlaceKind.Cylinder => Place.Cylinder(map(place.First)),
        PlaceKind.Pair => Place.Pair(map(place.First), map(place.Second)),
        _ => place,
    };
}
