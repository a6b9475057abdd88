using System.Net;
using ShopDiag.Storage.People;
using ShopDiag.Web.Api;

namespace ShopDiag.Web.People;

/// <summary>Until the shop has an owner only this machine is answered, and every page leads to the set-up.</summary>
internal static class SetUpGate
{
    /// <summary>Address of the set-up page.</summary>
    public const string Page = "/set-up";

    private const string ElsewhereFirst = "This shop has not been set up yet. Open it in a browser on the computer it runs on.";

    /// <summary>Turns others away, and pages to the set-up.</summary>
    public static IApplicationBuilder UseSetUpGate(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (!context.RequestServices.GetRequiredService<PeopleDirectory>().IsEmpty)
        {
            await next(context);
        }
        else if (context.Connection.RemoteIpAddress is { } from && !IPAddress.IsLoopback(from))
        {
            if (ApiAddress.IsFor(context.Request))
            {
                await new ApiProblem(StatusCodes.Status403Forbidden, ElsewhereFirst).ExecuteAsync(context);
                return;
            }

            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync(ElsewhereFirst, context.RequestAborted);
        }
        else if (SignInCookie.IsPage(context.Request) && context.GetEndpoint()?.Metadata.GetMetadata<Microsoft.AspNetCore.Authorization.IAllowAnonymous>() is null)
        {
            context.Response.Redirect(Page);
        }
        else
        {
            await next(context);
        }
    });
}
