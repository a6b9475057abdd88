using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;

namespace ShopDiag.Storage.Shop;

/// <summary>What the shop set about itself.</summary>
public sealed record ShopSettings
{
    /// <summary>Name on paper.</summary>
    public string Name { get; init; } = "";

    /// <summary>Address on paper, several lines allowed.</summary>
    public string Address { get; init; } = "";

    /// <summary>Telephone on paper.</summary>
    public string Phone { get; init; } = "";

    /// <summary>ISO 4217 code of the currency.</summary>
    public string Currency { get; init; } = "USD";

    /// <summary>Labour rate an hour in minor units.</summary>
    public long LabourPerHourMinor { get; init; }

    /// <summary><c>metric</c> or <c>us</c>: the units on screen and paper unless <see cref="Units"/> says otherwise.</summary>
    public string UnitSystem { get; init; } = "us";

    /// <summary>Units that differ from the system's, by quantity.</summary>
    public ImmutableDictionary<string, string> Units { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary><c>letter</c> or <c>a4</c>.</summary>
    public string Paper { get; init; } = "letter";

    /// <summary>Height above sea level in metres.</summary>
    public double AltitudeMetres { get; init; }

    /// <summary>How a height above sea level lowers the compression limits.</summary>
    public AltitudeRule AltitudeRule { get; init; }

    /// <summary>Tools owned; <c>*</c> means all.</summary>
    public ImmutableArray<string> Tools { get; init; } = ["*"];

    /// <summary>True when the shop's own proven cases move the causes' priors (<see cref="Diagnosis.Learning.PriorLearning"/>); false keeps them as shipped.</summary>
    public bool LearnFromCases { get; init; } = true;

    /// <summary>Taxes, supplies and terms.</summary>
    public ShopPricing Pricing { get; init; } = new();

    /// <summary>Days from hand-over within which the same trouble counts as a comeback, from 1 to 3,650.</summary>
    public int ComebackDays { get; init; } = ComebackWindow.Usual.Days;

    /// <summary>Kilometres since the repair within which it does, from 1 to 1,000,000; null for any distance.</summary>
    public int? ComebackKilometres { get; init; } = ComebackWindow.Usual.Kilometres;

    /// <summary>Both together.</summary>
    [JsonIgnore]
    public ComebackWindow ComebackWindow => new(ComebackDays, ComebackKilometres);

    /// <summary>Backups and how long customers are kept.</summary>
    public Keeping Keeping { get; init; } = new();
    /// <summary>Minutes without a touch after which a shared tablet locks, from 1 to 240; 0 for never.</summary>
    public int LockAfterMinutes { get; init; } = 10;

    /// <summary>True for the invented demo shop.</summary>
    public bool IsDemo { get; init; }

    /// <summary>For the reasoning.</summary>
    public ShopSetup ToSetup() => new()
    {
        Tools = Tools, AltitudeMetres = AltitudeMetres, AltitudeRule = AltitudeRule, LabourPerHour = LabourPerHourMinor == 0 ? null : LabourPerHourMinor / 100.0,
    };
}
