using System.Globalization;

namespace ShopDiag.Obd.Frames;

/// <summary>Who speaks to whom by an identifier of ISO 15765-4.</summary>
public enum CanRole
{
    /// <summary>No OBD identifier: other traffic on the bus.</summary>
    Other,

    /// <summary>The tester asks all control units.</summary>
    FunctionalRequest,

    /// <summary>The tester speaks to one control unit.</summary>
    PhysicalRequest,

    /// <summary>A control unit answers.</summary>
    Answer,
}

/// <summary>
/// An identifier on the CAN bus. OBD has two sets (ISO 15765-4): with 11 bits 7DF, 7E0 to 7E7 and 7E8 to 7EF; with 29 bits 18DB33F1, 18DAxxF1 and 18DAF1xx.
/// </summary>
/// <param name="Value">The identifier, below 2^11 or, when extended, below 2^29.</param>
/// <param name="Extended">True for 29 bits.</param>
public readonly record struct CanId(uint Value, bool Extended)
{
    private const uint FunctionalShort = 0x7DF;
    private const uint FunctionalLong = 0x18DB33F1;

    /// <summary>Asks all control units, 11 bits.</summary>
    public static CanId AskAll { get; } = new(FunctionalShort, false);

    /// <summary>Asks all control units, 29 bits.</summary>
    public static CanId AskAllExtended { get; } = new(FunctionalLong, true);

    /// <summary>What the identifier is for.</summary>
    public CanRole Role => (Extended, Value) switch
    {
        (false, FunctionalShort) or (true, FunctionalLong) => CanRole.FunctionalRequest,
        (false, >= 0x7E0 and <= 0x7E7) => CanRole.PhysicalRequest,
        (false, >= 0x7E8 and <= 0x7EF) => CanRole.Answer,
        (true, _) when (Value & 0xFFFF00FF) == 0x18DA00F1 => CanRole.PhysicalRequest,
        (true, _) when (Value & 0xFFFFFF00) == 0x18DAF100 => CanRole.Answer,
        _ => CanRole.Other,
    };

    /// <summary>The identifier of the other direction of a conversation with one control unit. Throws for any that is none.</summary>
    public CanId Reverse => (Role, Extended) switch
    {
        (CanRole.PhysicalRequest, false) => new(Value + 8, false),
        (CanRole.Answer, false) => new(Value - 8, false),
        (CanRole.PhysicalRequest, true) => new(0x18DAF100 | ((Value >> 8) & 0xFF), true),
        (CanRole.Answer, true) => new(0x18DA00F1 | ((Value & 0xFF) << 8), true),
        _ => throw new InvalidOperationException($"{this} is no conversation with one control unit."),
    };

    /// <summary>Three hexadecimal digits, or eight when extended: <c>7E8</c>, <c>18DAF110</c>.</summary>
    public override string ToString() => Value.ToString(Extended ? "X8" : "X3", CultureInfo.InvariantCulture);
}
