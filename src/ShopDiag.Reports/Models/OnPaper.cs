using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Reports.Models;

/// <summary>The shop as it stands at the head of a paper.</summary>
/// <param name="Name">Name.</param>
/// <param name="Address">Address; line breaks become commas.</param>
/// <param name="Phone">Telephone.</param>
public sealed record ShopOnPaper(string Name, string Address = "", string Phone = "")
{
    /// <summary>The logo, a picture that <see cref="Papers.CanPrint"/>, or empty for none. It goes into each file as it is, so a small one is better; what cannot be printed is left out.</summary>
    public ReadOnlyMemory<byte> Logo { get; init; }
}

/// <summary>The text of the QR code at the head of a paper.</summary>
internal static class QrLimit
{
    /// <summary>Longer texts make modules too fine for a camera at the size they are printed.</summary>
    public const int MostLetters = 200;

    /// <summary>The text itself; throws when it is too long.</summary>
    public static string Checked(string text) => text.Length <= MostLetters
        ? text
        : throw new ArgumentOutOfRangeException(nameof(text), text.Length, $"The text of a QR code must be at most {MostLetters} letters long.");
}

/// <summary>A vehicle without anything that names its owner (the plate stands on the customer report alone).</summary>
public sealed record VehicleOnPaper
{
    /// <summary>Maker and model.</summary>
    public string Description { get; init; } = "";

    /// <summary>Model year, or null when not known.</summary>
    public int? Year { get; init; }

    /// <summary>Vehicle identification number.</summary>
    public string Vin { get; init; } = "";

    /// <summary>The engine in words.</summary>
    public string EngineTitle { get; init; } = "";

    /// <summary>The engine, or null while none is chosen: then no engine is drawn and readings are listed by place.</summary>
    public Engine? Engine { get; init; }
}

/// <summary>One cylinder as the drawing of the engine shows it.</summary>
/// <param name="Cylinder">Its number, from 1.</param>
/// <param name="State">Chooses the pattern it is filled with.</param>
/// <param name="Word">Said under it, in plain words.</param>
public sealed record CylinderOnPaper(int Cylinder, CylinderCondition State, string Word);
