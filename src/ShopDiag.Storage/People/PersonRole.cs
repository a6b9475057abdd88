namespace ShopDiag.Storage.People;

/// <summary>What somebody is in the shop. Each role may do what <see cref="Permissions"/> says.</summary>
public enum PersonRole
{
    /// <summary>Finds and repairs the trouble.</summary>
    Technician,

    /// <summary>Speaks with the customer: estimates, approvals, hand-over.</summary>
    Advisor,

    /// <summary>Runs the shop: prices, settings, figures, people.</summary>
    Owner,
}
