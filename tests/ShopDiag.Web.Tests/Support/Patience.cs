using System.Runtime.CompilerServices;
using Bunit;

namespace ShopDiag.Web.Tests.Support;

/// <summary>A busy machine must not turn a slow render into a failure: what is waited for usually comes at once, and a wait ends as soon as it has.</summary>
internal static class Patience
{
    // A module initializer is the one place that runs before any test of the assembly.
#pragma warning disable CA2255
    [ModuleInitializer]
    internal static void WaitLong() => BunitContext.DefaultWaitTimeout = TimeSpan.FromSeconds(60);
#pragma warning restore CA2255
}
