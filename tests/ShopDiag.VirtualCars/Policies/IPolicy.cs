using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>A way to go about a car: reads, decides, repairs. It sees the readings and what they come to, never the truth.</summary>
internal interface IPolicy
{
    /// <summary>Name in the tables.</summary>
    string Name { get; }

    /// <summary>Works on the car until it has done what it believes needs doing, or gives up.</summary>
    /// <param name="game">The car in the bay.</param>
    /// <param name="faults">For how many faults it is paid to look: after so many right repairs the referee stops it.</param>
    void Play(Game game, int faults);
}
