using Microsoft.AspNetCore.Authorization;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>What somebody must be allowed to see a page. Every page says so, or that everybody may.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class NeedsAttribute(Permission permission) : AuthorizeAttribute(Policies.Of(permission))
{
    /// <summary>What.</summary>
    public Permission Permission => permission;
}

/// <summary>Permissions as policies of ASP.NET Core.</summary>
public static class Policies
{
    /// <summary>What an address asks for that says nothing itself.</summary>
    public const Permission Unsaid = Permission.WorkOnOrders;

    /// <summary>Name of a permission's policy.</summary>
    public static string Of(Permission permission) => permission.ToString();

    /// <summary>Asks for a permission at an endpoint.</summary>
    public static TBuilder Needs<TBuilder>(this TBuilder endpoint, Permission permission)
        where TBuilder : IEndpointConventionBuilder => endpoint.RequireAuthorization(Of(permission));

    /// <summary>Adds a policy for each permission, and denies what says nothing to whoever may not work on orders.</summary>
    public static void AddAll(AuthorizationOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        foreach (var permission in Enum.GetValues<Permission>())
        {
            options.AddPolicy(Of(permission), p => p.AddRequirements(new PermissionRequirement(permission)));
        }

        options.FallbackPolicy = options.DefaultPolicy = options.GetPolicy(Of(Unsaid))!;
    }
}

/// <summary>Asks for a permission.</summary>
/// <param name="Permission">Which.</param>
public sealed record PermissionRequirement(Permission Permission) : IAuthorizationRequirement;

/// <summary>Looks whether somebody has it, as the shop knows them now.</summary>
public sealed class PermissionHandler(Actors actors) : AuthorizationHandler<PermissionRequirement>
{
    /// <inheritdoc/>
    protected override Task HandleRequirementAsync(AuthorizationHandlerContext context, PermissionRequirement requirement)
    {
        if (actors.Of(context.User).May(requirement.Permission))
        {
            context.Succeed(requirement);
        }

        return Task.CompletedTask;
    }
}
