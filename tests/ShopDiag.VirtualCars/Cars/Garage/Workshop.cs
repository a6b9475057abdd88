namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// The shop that the car came to and the technician who got it: the gauges' bias stays the same for every reading on this car, and so do
/// his habits of looking and listening. All numbers made-up.
/// </summary>
internal sealed class Workshop
{
    /// <summary>Share of readings that come with a slip.</summary>
    public required double SlipChance { get; init; }

    /// <summary>Factor on all scatter.</summary>
    public required double Scatter { get; init; }

    /// <summary>What the pressure gauge shows of the true pressure.</summary>
    public required double GaugeShows { get; init; }

    /// <summary>Points that the leak tester shows beside the truth.</summary>
    public required double LeakPoints { get; init; }

    /// <summary>Ohms in the meter's leads that were not taken off.</summary>
    public required double LeadOhm { get; init; }

    /// <summary>Volts that the meter is off.</summary>
    public required double MeterVolts { get; init; }

    /// <summary>Millimetres that feeler and dial read beside the truth.</summary>
    public required double FeelerMm { get; init; }

    /// <summary>Shop temperature, Celsius.</summary>
    public required double Celsius { get; init; }

    /// <summary>The spark tester's gap, millimetres.</summary>
    public required double TesterGapMm { get; init; }

    /// <summary>How readily he calls a thing bad by eye: added to what he sees.</summary>
    public required double Eye { get; init; }

    /// <summary>How readily he hears a thing.</summary>
    public required double Ear { get; init; }

    /// <summary>Share of a balance's drops that the idle control hides, because it was not fixed.</summary>
    public required double IdleControlHides { get; init; }

    /// <summary>True where he writes the tester's supply and restrictor with a leak-down.</summary>
    public required bool WritesTester { get; init; }

    /// <summary>True where he reads the trims at 2500 rpm as well.</summary>
    public required bool HoldsFast { get; init; }

    /// <summary>How well each condition is brought about: the share of a fault's duty that shows when he tries.</summary>
    public required Duty Reach { get; init; }

    /// <summary>Draws one.</summary>
    public static Workshop Draw(ReaderError error, Dice dice) => new()
    {
        // One reading in fifty for a working day; in a hurry three times that.
        SlipChance = error switch
        {
            ReaderError.Careful => 0,
            ReaderError.Ordinary => 0.02,
            ReaderError.Hurried => 0.06,
            _ => throw new InvalidOperationException($"Unknown reader error {error}."),
        },
        Scatter = error switch { ReaderError.Careful => 1, ReaderError.Ordinary => 1.1, _ => 1.5 },
        GaugeShows = 1 + dice.Scatter(0.015),
        LeakPoints = dice.Scatter(1),
        LeadOhm = dice.Between(0, 0.06),
        MeterVolts = dice.Scatter(0.05),
        FeelerMm = dice.Scatter(0.01),
        Celsius = dice.Between(12, 32),
        TesterGapMm = Math.Round(dice.Between(12, 26), MidpointRounding.AwayFromZero),
        Eye = dice.Scatter(0.05),
        Ear = dice.Scatter(0.05),
        IdleControlHides = dice.Chance(0.15) ? dice.Between(0.3, 0.6) : dice.Between(0, 0.12),
        WritesTester = dice.Chance(0.4),
        HoldsFast = dice.Chance(0.9),
        Reach = new(1, dice.Between(0.6, 1), dice.Chance(0.6) ? dice.Between(0.5, 1) : 0.1, dice.Between(0.4, 1), dice.Chance(0.6) ? dice.Between(0.4, 1) : 0.05),
    };
}
