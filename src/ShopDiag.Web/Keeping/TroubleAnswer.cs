using ShopDiag.Storage.Writing;

namespace ShopDiag.Web.Keeping;

/// <summary>What a request hears when the disk takes nothing: 507 and why, as a JSON string. The tablet's scripts keep what they have and try again.</summary>
internal static class TroubleAnswer
{
    /// <summary>Adds it.</summary>
    public static IApplicationBuilder UseStorageTrouble(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        try
        {
            await next(context);
        }
        catch (Exception e) when (!context.Response.HasStarted && StorageTrouble.Of(e) is not null)
        {
            context.RequestServices.GetRequiredService<ILogger<StorageTrouble>>().LogError(e, "The disk does not take what was sent to {Path}", context.Request.Path);
            await TypedResults.Json(StorageTrouble.Of(e)!, statusCode: StatusCodes.Status507InsufficientStorage).ExecuteAsync(context);
        }
    });
}
