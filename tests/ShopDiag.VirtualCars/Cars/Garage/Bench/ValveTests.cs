namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Under the valve cover. Numbers made-up unless marked.</summary>
internal static class ValveTests
{
    /// <summary>How far each valve opens.</summary>
    public static Values Lift(Visit visit) => new Values()
        .Number("intakeMm", Opens(visit, visit.Wear.LiftMm.Intake, visit.Here.IntakeLiftLoss), 1)
        .Number("exhaustMm", Opens(visit, visit.Wear.LiftMm.Exhaust, visit.Here.ExhaustLiftLoss), 1);

    /// <summary>Clearance, cold.</summary>
    public static Values Clearance(Visit visit) => new Values()
        .Number("intakeMm", Gap(visit, Middle(visit.Maker.IntakeClearanceMm), visit.Here.IntakeClearanceMm), 2)
        .Number("exhaustMm", Gap(visit, Middle(visit.Maker.ExhaustClearanceMm), visit.Here.ExhaustClearanceMm), 2);

    private static double Opens(Visit visit, double sound, double loss) =>
        Math.Max(0, (sound * (1 - loss)) + visit.Shop.FeelerMm + visit.Scatter(0.12));

    private static double Gap(Visit visit, double maker, double beside) =>
        Math.Max(0, maker + beside + visit.Shop.FeelerMm + visit.Scatter(0.008));

    private static double Middle((double Min, double Max) range) => (range.Min + range.Max) / 2;
}
