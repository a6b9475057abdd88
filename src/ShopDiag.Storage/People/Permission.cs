using System.Collections.Frozen;

namespace ShopDiag.Storage.People;

/// <summary>Something that not everybody may do. DEVELOPERS.md has the table; a test compares the two.</summary>
#pragma warning disable CA1711 // The rule keeps the word for code access security, which .NET no longer has; here it is the word for the thing.
public enum Permission
#pragma warning restore CA1711
{
    /// <summary>Change one's own password and PIN.</summary>
    OwnSignIn,

    /// <summary>Write up and read orders, take readings, photos and recordings, take findings over, move an order through the workshop, handle parts.</summary>
    WorkOnOrders,

    /// <summary>See and change how a customer is reached.</summary>
    SeeContacts,

    /// <summary>Change estimates and the price of a diagnosis.</summary>
    EditEstimates,

    /// <summary>Write down what a customer said to an estimate.</summary>
    RecordApprovals,

    /// <summary>Let parts go on whose cause is not proven.</summary>
    GoOnWithoutProof,

    /// <summary>Hand a car over, or take that back.</summary>
    HandOver,

    /// <summary>Say whether an order is a comeback.</summary>
    AnswerComebacks,

    /// <summary>Change prices and labour times.</summary>
    EditPrices,

    /// <summary>Change what the shop set about itself, the learning switch too.</summary>
    ChangeSettings,

    /// <summary>Have what one sends worked out: workups, recordings, waveforms, OBD messages. Nothing of the shop is seen.</summary>
    WorkOut,

    /// <summary>Print parts lists and bench sheets: nothing of customers stands on them.</summary>
    PrintPapers,

    /// <summary>Print customer reports and invoices.</summary>
    PrintCustomerPapers,

    /// <summary>See comebacks and the other figures of the owner.</summary>
    SeeFigures,

    /// <summary>Add people, change their roles, reset how they sign in, forget devices, make and revoke tokens for programs.</summary>
    ManagePeople,

    /// <summary>Backup, restore, export, import and erasure of the shop's data.</summary>
    KeepData,
}

/// <summary>Which role may do what.</summary>
public static class Permissions
{
    private static readonly FrozenDictionary<Permission, PersonRole> Least = new Dictionary<Permission, PersonRole>
    {
        [Permission.OwnSignIn] = PersonRole.Technician,
        [Permission.WorkOnOrders] = PersonRole.Technician,
        [Permission.SeeContacts] = PersonRole.Advisor,
        [Permission.EditEstimates] = PersonRole.Advisor,
        [Permission.RecordApprovals] = PersonRole.Advisor,
        [Permission.GoOnWithoutProof] = PersonRole.Advisor,
        [Permission.HandOver] = PersonRole.Advisor,
        [Permission.AnswerComebacks] = PersonRole.Advisor,
        [Permission.EditPrices] = PersonRole.Owner,
        [Permission.ChangeSettings] = PersonRole.Owner,
        [Permission.WorkOut] = PersonRole.Technician,
        [Permission.PrintPapers] = PersonRole.Technician,
        [Permission.PrintCustomerPapers] = PersonRole.Advisor,
        [Permission.SeeFigures] = PersonRole.Owner,
        [Permission.ManagePeople] = PersonRole.Owner,
        [Permission.KeepData] = PersonRole.Owner,
    }.ToFrozenDictionary();

    /// <summary>True when somebody of the role may do it: what one role may, those above it may too.</summary>
    public static bool Has(PersonRole role, Permission permission) => role >= Least[permission];

    /// <summary>
    /// True when a PIN is not enough for it: six digits typed on a tablet that hangs on the wall must not hand out the shop. Somebody who came in with a PIN signs in with the password first.
    /// </summary>
    public static bool NeedsPassword(Permission permission) => permission is Permission.ManagePeople or Permission.KeepData;
}
