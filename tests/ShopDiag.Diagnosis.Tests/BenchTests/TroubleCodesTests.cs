using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.BenchTests.Bench;

namespace ShopDiag.Diagnosis.Tests.BenchTests;

public sealed class TroubleCodesTests
{
    private static ImmutableArray<Finding> Read(Engine engine, params string[] codes) => Judge(engine, "trouble-codes", At(Place.Engine, T("codes", codes)));

    private static string Outcomes(ImmutableArray<Finding> findings, string aspect) => string.Join(" ", findings.Where(f => f.Aspect == aspect).Select(f => f.Outcome ?? "-"));

    [Fact]
    public void A_misfire_code_names_its_cylinder_and_clears_the_others()
    {
        var findings = Read(I4, "P0304");
        Assert.Equal("not-coded not-coded not-coded coded", Outcomes(findings, "codes-misfire"));
        Assert.Equal("none", Outcomes(findings, "codes-random"));
        Assert.Equal("P0304: Misfire of cylinder 4.", findings.Single(f => f.Outcome == "coded").Because);
        Assert.Equal(5, findings.Length);
    }

    [Fact]
    public void Beside_a_random_misfire_code_no_cylinder_is_cleared()
    {
        var findings = Read(I4, "P0300", "P0304");
        Assert.Equal(Place.Cylinder(4), findings.Single(f => f.Aspect == "codes-misfire").At);
        Assert.Equal("random", Outcomes(findings, "codes-random"));
    }

    [Fact]
    public void A_random_misfire_code_alone_names_no_cylinder() => Assert.Equal("codes-random", Assert.Single(Read(I4, "P0300")).Aspect);

    [Theory]
    [InlineData]
    [InlineData("P0420")]
    [InlineData("P0309")]
    [InlineData("nonsense")]
    public void Codes_that_name_no_place_of_this_engine_find_nothing(params string[] codes) => Assert.Empty(Read(I4, codes));

    [Fact]
    public void Coil_and_injector_codes_speak_of_their_own_cylinder()
    {
        var findings = Read(I4, "P0352", "P0264", "P0203");
        Assert.Equal("not-coded coded not-coded not-coded", Outcomes(findings, "codes-coil"));
        Assert.Equal("not-coded coded coded not-coded", Outcomes(findings, "codes-injector"));
        Assert.Empty(Outcomes(findings, "codes-misfire"));
    }

    [Fact]
    public void A_shared_coils_code_speaks_of_both_companions_and_says_that_letters_vary()
    {
        var findings = Read(Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], Ignition.WasteSpark), "P0351");
        Assert.Equal("coded not-coded not-coded coded", Outcomes(findings, "codes-coil"));
        Assert.Contains("cylinders 1 and 4; makers letter shared coils differently", findings[0].Because, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("lean none", "P0171")]
    [InlineData("none rich", "P0175")]
    [InlineData("lean lean", "P2187", "P0174")]
    [InlineData("- none", "P0171", "P0172")]
    public void Mixture_codes_speak_of_their_bank(string outcomes, params string[] codes) => Assert.Equal(outcomes, Outcomes(Read(V6, codes), "codes-mixture"));

    [Fact]
    public void Bank_1_of_a_code_is_the_bank_of_cylinder_1()
    {
        var turned = Make("V6", [[2, 4, 6], [1, 3, 5]], [1, 2, 3, 4, 5, 6]);
        Assert.Equal("none lean", Outcomes(Read(turned, "P0171"), "codes-mixture"));
        Assert.Empty(Read(I4, "P0174"));
    }

    [Fact]
    public void Codes_of_several_readings_count_together_in_any_order()
    {
        var together = Judge(I4, "trouble-codes", At(Place.Engine, T("codes", "P0304", "P0171")));
        Assert.Equal(together, Judge(I4, "trouble-codes", At(Place.Engine, T("codes", "P0171")), At(Place.Engine, T("codes", "p0304"))));
    }
}
