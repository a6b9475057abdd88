namespace ShopDiag.Diagnosis.Engines;

/// <summary>A generic engine that ships with the program (<c>Engines/profiles.json</c>): a starting point that a shop copies and changes.</summary>
/// <param name="Id">Stable id, such as <c>v6-60-odd-even</c>.</param>
/// <param name="Title">In the trade's words.</param>
/// <param name="Spec">The engine.</param>
/// <param name="Source">Where firing order and numbering come from.</param>
public sealed record EngineProfile(string Id, string Title, EngineSpec Spec, string Source);
