using System.Collections.Immutable;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>Roles in words.</summary>
public static class RoleWords
{
    /// <summary>All roles.</summary>
    public static ImmutableArray<PersonRole> All { get; } = [.. Enum.GetValues<PersonRole>()];

    /// <summary>The role.</summary>
    public static string Of(PersonRole role) => role switch
    {
        PersonRole.Technician => "technician",
        PersonRole.Advisor => "advisor",
        PersonRole.Owner => "owner",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "No such role."),
    };

    /// <summary>What somebody of the role does here.</summary>
    public static string Does(PersonRole role) => role switch
    {
        PersonRole.Technician => "readings, findings, parts and the way of an order through the workshop",
        PersonRole.Advisor => "that, and estimates, approvals, hand-over and how customers are reached",
        PersonRole.Owner => "everything, also prices, settings, figures and people",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "No such role."),
    };
}
