namespace ShopDiag.Storage.Audit;

/// <summary>Something that was done, as it stands in the record that is only ever added to.</summary>
/// <param name="Sequence">Running number over the whole shop.</param>
/// <param name="At">When, UTC.</param>
/// <param name="Who">The person's name at the time; empty when none was known.</param>
/// <param name="Device">Name of the shop's device; empty for another.</param>
/// <param name="What">What was done, such as <c>set VehiclePlate</c>.</param>
/// <param name="Before">What stood there; null where that says nothing or is personal.</param>
/// <param name="After">What stands there now; null likewise.</param>
/// <param name="OrderId">The order; null for what concerns the shop.</param>
public sealed record AuditEntry(long Sequence, DateTime At, string Who, string Device, string What, string? Before, string? After, Guid? OrderId);
