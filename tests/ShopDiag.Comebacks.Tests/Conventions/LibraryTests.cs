using System.Reflection;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Conventions;

/// <summary>The rules of the house for the comebacks library.</summary>
public sealed class LibraryTests
{
    [Fact]
    public void The_comebacks_library_references_the_base_class_library_the_heart_and_one_numeric_package_only()
    {
        var others = typeof(KaplanMeier).Assembly.GetReferencedAssemblies().Select(a => a.Name!)
            .Where(n => !n.StartsWith("System.", StringComparison.Ordinal) && n is not "netstandard" and not "ShopDiag.Diagnosis" and not "MathNet.Numerics");

        Assert.Empty(others);
    }

    [Fact]
    public void Nothing_public_can_be_set_from_outside_after_it_was_made()
    {
        var settable = typeof(KaplanMeier).Assembly.GetExportedTypes()
            .SelectMany(t => t.GetProperties(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly))
            .Where(p => p.SetMethod is { IsPublic: true } set && !set.ReturnParameter.GetRequiredCustomModifiers().Contains(typeof(System.Runtime.CompilerServices.IsExternalInit)))
            .Select(p => $"{p.DeclaringType!.Name}.{p.Name}");

        Assert.Empty(settable);
    }
}
