using Microsoft.AspNetCore.Routing.Template;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Components.Layout;

namespace ShopDiag.Web.Api;

/// <summary>Sees to it that a program always hears what was wrong as problem details, never as a page or as nothing.</summary>
internal static partial class ApiProblems
{
    /// <summary>Turns failures, and answers that are only a number, into problem details.</summary>
    public static IApplicationBuilder UseApiProblems(this IApplicationBuilder app) => app.UseWhen(http => ApiAddress.IsFor(http.Request), api => api.Use(async (http, next) =>
    {
        http.Response.Headers.CacheControl = "no-store";
        ApiProblem? problem;
        try
        {
            await next(http);
            problem = OfStatus(http.Response);
        }
        catch (Exception e) when (!http.Response.HasStarted && !(e is OperationCanceledException && http.RequestAborted.IsCancellationRequested))
        {
            problem = Of(e, http);
        }

        if (problem is not null && !http.Response.HasStarted)
        {
            await problem.ExecuteAsync(http);
        }
    }));

    /// <summary>Answers what leads nowhere, or not by this method, before it is asked who may: there is nothing to be allowed, and the description that says what there is is everybody's.</summary>
    public static IApplicationBuilder UseApiNowhere(this IApplicationBuilder app) => app.Use((http, next) =>
    {
        // What routing itself puts in the place of an endpoint carries no metadata; every endpoint of ours does.
        if (!ApiAddress.IsFor(http.Request) || http.GetEndpoint() is { Metadata.Count: > 0 })
        {
            return next(http);
        }

        // Routing finds the pages' own answer for files that are not there, and so never says "by another method".
        var others = OtherMethods(http);
        if (others.Length == 0 || others.Contains(http.Request.Method, StringComparer.OrdinalIgnoreCase))
        {
            return new ApiProblem(StatusCodes.Status404NotFound, $"Nothing is at this address. {ApiAddress.Document} says what there is.").ExecuteAsync(http);
        }

        http.Response.Headers.Allow = string.Join(", ", others);
        return new ApiProblem(StatusCodes.Status405MethodNotAllowed, $"This address is asked in another way: {string.Join(", ", others)}, as the header Allow says.").ExecuteAsync(http);
    });

    private static string[] OtherMethods(HttpContext http) =>
    [
        .. http.RequestServices.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Where(e => e.Metadata.GetMetadata<ApiOperation>() is not null && new TemplateMatcher(new(e.RoutePattern), []).TryMatch(http.Request.Path, []))
            .SelectMany(e => e.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? []).Distinct(),
    ];

    private static ApiProblem? OfStatus(HttpResponse response) => response is { StatusCode: < 400 } || response.HasStarted || response.ContentType is not null
        ? null
        : new(response.StatusCode, response.StatusCode switch
        {
            StatusCodes.Status403Forbidden => "This is not allowed from here.",
            _ => $"The request cannot be answered. {ApiAddress.Document} says how to ask.",
        });

    private static ApiProblem Of(Exception failure, HttpContext http)
    {
        // What was sent before the failure stays out of the answer.
        http.Response.Clear();
        if (failure is BadHttpRequestException bad)
        {
            return new(bad.StatusCode, bad.StatusCode == StatusCodes.Status413PayloadTooLarge ? TooLarge(http) : "The request did not arrive whole. Send it again.");
        }

        if (failure is NotAllowedException refused)
        {
            return new(StatusCodes.Status403Forbidden, refused.Message);
        }

        var incident = Incident.New();
        Failed(http.RequestServices.GetRequiredService<ILogger<ApiProblem>>(), failure, incident, http.GetEndpoint()?.DisplayName);
        return StorageTrouble.Of(failure) is { } trouble
            ? new(StatusCodes.Status507InsufficientStorage, trouble, Incident: incident)
            : new(StatusCodes.Status500InternalServerError, "The program ran into an error; nothing was changed. If it comes back, tell whoever looks after the program the incident number.", Incident: incident);
    }

    /// <summary>What to say of a body that is too large.</summary>
    public static string TooLarge(HttpContext http)
    {
        var most = http.GetEndpoint()?.Metadata.GetMetadata<ApiOperation>()?.LargestBody ?? 0;
        return most > 0 ? $"What was sent is too large: {most / 1_000_000} MB are taken at most. Send less at a time, or cut out the part that matters." : "What was sent is too large: nothing is taken here.";
    }

    // The endpoint's own name, never the address: what stands in a query may be about people.
    [LoggerMessage(Level = LogLevel.Error, Message = "Incident {Incident}: {Endpoint} failed")]
    private static partial void Failed(ILogger log, Exception failure, string incident, string? endpoint);
}
