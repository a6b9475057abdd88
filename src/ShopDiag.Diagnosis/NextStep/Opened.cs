namespace ShopDiag.Diagnosis.NextStep;

/// <summary>What has been begun and taken off so far, as bit sets: of tests by their number in the knowledge, of banks and cylinders by number.</summary>
/// <param name="Begun">Tests of which a reading was taken, so that their tool stands ready.</param>
/// <param name="Banks">Banks whose coils can be reached.</param>
/// <param name="Plugs">Cylinders whose plug is out.</param>
/// <param name="Covers">Banks whose valve cover is off.</param>
internal readonly record struct Opened(ulong Begun, ulong Banks, ulong Plugs, ulong Covers);
