using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>The wheel whose teeth a crank sensor sees, such as 36-1 or 60-2: evenly spaced places, some at one spot left out.</summary>
public sealed record ToothWheel
{
    /// <summary>Fewest places: with fewer the speed within the cycle is not seen.</summary>
    public const int FewestPlaces = 12;

    /// <summary>Most places.</summary>
    public const int MostPlaces = 360;

    private ToothWheel(int places, int missing) => (Places, Missing) = (places, missing);

    /// <summary>Places a revolution, those left out with them: 60 for 60-2. 12 to 360.</summary>
    public int Places { get; }

    /// <summary>Teeth left out in a row, 0 to 3; 0 for a plain wheel.</summary>
    public int Missing { get; }

    /// <summary>Teeth a revolution that are there.</summary>
    public int Teeth => Places - Missing;

    /// <summary>Degrees of crank from tooth to tooth.</summary>
    public double Pitch => 360.0 / Places;

    /// <summary>Checks and makes one; the error names <c>places</c> or <c>missing</c>.</summary>
    public static Parsed<ToothWheel> Create(int places, int missing)
    {
        if (places is < FewestPlaces or > MostPlaces)
        {
            return new InputError("places", $"The wheel has {FewestPlaces} to {MostPlaces} places for teeth.");
        }

        return missing is < 0 or > 3 ? new InputError("missing", "0 to 3 teeth are left out in a row.") : new ToothWheel(places, missing);
    }
}
