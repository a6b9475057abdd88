using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Estimates.Tests;

/// <summary>Engines, findings and lines that several tests work with. Prices are invented.</summary>
internal static class Samples
{
    public static readonly Guid Order = new("0c0f6f0e-6f6f-4a3e-9a5d-0d6f3f1f2a01");

    public static Engine V6 { get; } = Engine.Create(new EngineSpec
    {
        Layout = "V6", Banks = [[1, 3, 5], [2, 4, 6]], FiringOrder = [1, 2, 3, 4, 5, 6], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
        AccessMinutes = new Dictionary<int, double> { [2] = 40 }.ToImmutableDictionary(),
    }).Value;

    public static DraftSource CoilOnFour(bool unproven = false) => new()
    {
        Order = Order, Engine = V6, Car = "2014 Marlow Estate V6 3.5", Causes = [new ProvenCause("coil-failed", Place.Cylinder(4))], Unproven = unproven, DiagnosisMinor = 9500, LabourPerHourMinor = 12000,
    };

    public static EstimateLine Line(LineKind kind, long thousandths, long price, int tax = 0, int discount = 0, long core = 0, int key = 0) => new()
    {
        Id = Guid.Parse($"00000000-0000-0000-0000-{key:D12}"), Kind = kind, Text = "line", Thousandths = thousandths, PriceMinor = price, TaxBasisPoints = tax, DiscountBasisPoints = discount, CoreMinor = core,
    };
}
