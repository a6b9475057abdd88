using System.Collections.Immutable;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Repairs;

/// <summary>A new order as far as it is written up: what is asked about whether it could be a comeback.</summary>
public sealed record ArrivedOrder
{
    /// <summary>The order's key.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>The vehicle's key.</summary>
    public required Guid VehicleId { get; init; }

    /// <summary>The day the car came in, in the shop's time.</summary>
    public required DateOnly CameInOn { get; init; }

    /// <summary>Kilometres; null when not read.</summary>
    public int? OdometerKm { get; init; }

    /// <summary>Trouble codes, upper case.</summary>
    public ImmutableArray<string> Codes { get; init; } = [];

    /// <summary>Conditions under which it happens.</summary>
    public ImmutableArray<string> When { get; init; } = [];

    /// <summary>The concern in the customer's words.</summary>
    public string ConcernText { get; init; } = "";

    /// <summary>Where the readings so far show the trouble, once there are any.</summary>
    public ImmutableArray<Place> Places { get; init; } = [];
}
