using BenchmarkDotNet.Attributes;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;

namespace ShopDiag.Benchmarks;

/// <summary>The owner's figures of a shop of 200,000 repairs over twenty years, one in twenty of which came back: one grouping, and all of them.</summary>
[ShortRunJob]
[MemoryDiagnoser]
public class ComebackBenchmarks
{
    private static readonly string[] Causes = [.. Knowledge.Shipped.Causes.Select(c => c.Id)];
    private static readonly DateOnly Start = new(2010, 1, 1);
    private readonly OwnerQuestion _question = new() { AsOf = new(2030, 1, 1) };
    private RepairCase[] _cases = [];

    [Params(20_000, 200_000)]
    public int Repairs { get; set; } = 200_000;

    [GlobalSetup]
    public void SetUp()
    {
        var random = new Random(7);
        RepairCase[] repairs = [.. Enumerable.Range(0, Repairs).Select(i => Repair(i, random))];
        _cases = [.. repairs, .. repairs.Where(_ => random.Next(20) == 0).Select((r, i) => Back(i, r, random))];
    }

    [Benchmark]
    public OwnerFigures ByDiagnosis() => OwnerFigures.From(_cases, _question, Grouping.Diagnosis);

    /// <summary>All that the owner's pages show, from one following of the repairs.</summary>
    [Benchmark]
    public int Everything()
    {
        var followed = FollowedRepairs.From(_cases, _question);
        return Enum.GetValues<Grouping>().Sum(by => OwnerFigures.From(followed, by).Groups.Sum(g => g.StillGoodDays.Length + g.StillGoodKilometres.Length))
            + BenchMinutes.ByCause(followed).Length + PartsWithoutProof.Of(followed).Parts;
    }

    private static RepairCase Repair(int i, Random random)
    {
        var day = Start.AddDays(random.Next(7305));
        return new()
        {
            OrderId = new(i, 1, 0, new byte[8]),
            Number = 1001 + i,
            VehicleId = new(i / 3, 2, 0, new byte[8]),
            CameInOn = day,
            HandedOverOn = day.AddDays(random.Next(4)),
            OdometerKm = random.Next(300_000),
            Repaired = [new(Causes[random.Next(Causes.Length)], Place.Cylinder(random.Next(1, 9)))],
            Technician = $"Technician {random.Next(12)}",
            EngineFamily = $"coil-on-plug/port/V{random.Next(2, 40)}",
            Parts = [new("Coil", $"Maker {random.Next(60)}", $"Vendor {random.Next(25)}", random.Next(8) == 0)],
            ProofGiven = random.Next(8) > 0,
            RepairChecked = random.Next(6) > 0,
            MinutesToProof = random.Next(10, 240),
            MinutesAuthorised = 60,
            MinutesBilled = random.Next(30, 300),
            MinutesSpent = random.Next(30, 300),
        };
    }

    private static RepairCase Back(int i, RepairCase repair, Random random) => repair with
    {
        OrderId = new(i, 3, 0, new byte[8]),
        Number = 900_000 + i,
        CameInOn = repair.HandedOverOn!.Value.AddDays(random.Next(500)),
        HandedOverOn = null,
        OdometerKm = repair.OdometerKm + random.Next(20_000),
        Repaired = [],
        ComebackOf = repair.OrderId,
        Answer = ComebackAnswer.Yes,
    };
}
