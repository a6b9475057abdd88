using System.Globalization;
using ShopDiag.VirtualCars.Play;
using ShopDiag.VirtualCars.Policies;

namespace ShopDiag.VirtualCars.Tables;

/// <summary>One car's whole dialogue under one policy, with the truth above and the end below.</summary>
internal static class Dialogue
{
    public static string Of(Fair fair, int index, IPolicy policy)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var car = fair.Car(index);
        text.WriteLine($"Car {index}, {fair.EngineOf(index).Name}, {policy.Name}");
        text.WriteLine($"TRUTH: {(car.Faults.IsEmpty ? "sound engine" : string.Join(", ", car.Faults.Select(f => $"{f.Cause} at {f.At}")))}");
        text.WriteLine($"Comes in with codes [{string.Join(" ", car.Concern.Codes)}], lamp {car.Concern.Lamp}, when [{string.Join(" ", car.Concern.When)}]");
        var result = fair.Play(policy, index, new Trace(text));
        text.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"END: {result.Ending}, {result.Minutes:0.#} min, {result.Steps} steps, {result.NeedlessParts} needless parts. Said: {result.Said}"));
        return text.ToString();
    }
}
