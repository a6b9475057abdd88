namespace ShopDiag.Comebacks.Figures;

/// <summary>By what repairs are put together.</summary>
public enum Grouping
{
    /// <summary>All together, one group.</summary>
    All,

    /// <summary>By the cause repaired; an order with several counts in each.</summary>
    Diagnosis,

    /// <summary>By who had it.</summary>
    Technician,

    /// <summary>By the family of engines.</summary>
    EngineFamily,

    /// <summary>By who made the parts; an order with parts of several makers counts with each, one without parts with none.</summary>
    PartMaker,

    /// <summary>By who sold the parts to the shop; likewise.</summary>
    Vendor,

    /// <summary>Cause proven (<c>given</c>) or parts sold without proof (<c>skipped</c>).</summary>
    Proof,

    /// <summary>Repair check that came to an answer, good or not (<c>done</c>), or none, or one that proves nothing (<c>skipped</c>).</summary>
    RepairCheck,
}
