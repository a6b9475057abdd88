namespace ShopDiag.Diagnosis.Learning;

/// <summary>How often a cause was proven on engines of one family.</summary>
/// <param name="Cause">The cause's id. One that the knowledge does not have, or that cannot be proven on such an engine, is passed over.</param>
/// <param name="Family">The engines.</param>
/// <param name="Cases">Repair orders on which it was proven, from 0; an order counts once for a cause.</param>
public sealed record CaseCount(string Cause, EngineFamily Family, int Cases);
