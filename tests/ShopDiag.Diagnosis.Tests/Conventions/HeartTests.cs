using System.Reflection;
using System.Runtime.CompilerServices;

namespace ShopDiag.Diagnosis.Tests.Conventions;

/// <summary>The rules of the house for the heart.</summary>
public sealed class HeartTests
{
    private static readonly Assembly Heart = typeof(Knowledge).Assembly;

    [Fact]
    public void The_heart_references_the_base_class_library_and_units_only()
    {
        var others = Heart.GetReferencedAssemblies().Select(a => a.Name!)
            .Where(n => !n.StartsWith("System.", StringComparison.Ordinal) && n is not "netstandard" and not "UnitsNet");

        Assert.Empty(others);
    }

    [Fact]
    public void Public_types_of_the_heart_cannot_be_changed_after_they_are_made()
    {
        var settable = Heart.GetExportedTypes()
            .SelectMany(t => t.GetProperties(BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly))
            .Where(p => p.SetMethod is { } set && !set.ReturnParameter.GetRequiredCustomModifiers().Contains(typeof(IsExternalInit)))
            .Select(p => $"{p.DeclaringType!.Name}.{p.Name}")
            .Concat(Heart.GetExportedTypes().SelectMany(t => t.GetFields(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly))
                .Where(f => !f.IsInitOnly && !f.IsLiteral && !f.DeclaringType!.IsEnum)
                .Select(f => $"{f.DeclaringType!.Name}.{f.Name}"));

        Assert.Empty(settable);
    }

    [Theory]
    [InlineData("Evidence")]
    [InlineData("NextStep")]
    [InlineData("Workups")]
    public void The_reasoning_names_no_test_and_no_cause(string folder)
    {
        // Adding a test or a cause must not touch reasoning code: so the id of none may stand in its source.
        var files = Directory.GetFiles(Path.Combine(SourceFolder(), folder), "*.cs");
        var ids = Knowledge.Shipped.Tests.SelectMany(t => t.Aspects.Select(a => a.Id).Append(t.Id)).Concat(Knowledge.Shipped.Causes.Select(c => c.Id)).Distinct();

        Assert.NotEmpty(files);
        Assert.Empty(from file in files let text = File.ReadAllText(file) from id in ids where text.Contains($"\"{id}\"", StringComparison.Ordinal) select $"{Path.GetFileName(file)}: {id}");
    }

    private static string SourceFolder([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../../src/ShopDiag.Diagnosis"));

    [Fact]
    public void Every_evidence_rule_gives_its_reason_and_its_source()
    {
        foreach (var cause in Knowledge.Shipped.Causes)
        {
            Assert.All(cause.Shows, r =>
            {
                Assert.False(string.IsNullOrWhiteSpace(r.Because), $"{cause.Id} {r.Aspect}: because");
                Assert.False(string.IsNullOrWhiteSpace(r.Against), $"{cause.Id} {r.Aspect}: against");
                Assert.False(string.IsNullOrWhiteSpace(r.Source), $"{cause.Id} {r.Aspect}: source");
            });
        }
    }

    [Fact]
    public void Good_outcomes_speak_against_a_cause_at_its_own_place_or_not_at_all()
    {
        // What makes "a good reading never raises suspicion there" true for any mix of readings.
        // That nothing is wrong with the engine is what good readings do speak for.
        foreach (var cause in Knowledge.Shipped.Causes.Where(c => !c.Alone))
        {
            // Conditions are no such readings: that it does not misfire under load rightly speaks for a fault of the idle.
            foreach (var rule in cause.Shows.Where(r => r.Where == BenchTests.Relation.Here && Knowledge.Shipped.Aspect(r.Aspect)!.Value.Test.ConditionsField is null))
            {
                foreach (var good in Knowledge.Shipped.Aspect(rule.Aspect)!.Value.Aspect.Outcomes.Where(o => o.Good))
                {
                    Assert.True(rule.Shows.GetValueOrDefault(good.Id) <= good.Healthy + 1e-9, $"{cause.Id}: '{good.Id}' of {rule.Aspect} would speak for it");
                }
            }
        }
    }
}
