using CsCheck;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Tests.BenchTests;
using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Diagnosis.Tests.Vehicles;

public sealed class TroubleCodeTests
{
    private static TroubleCode Code(string text) => TroubleCode.Parse(text).Value;

    [Theory]
    [InlineData(" p0304 ", "P0304")]
    [InlineData("P 0a2f", "P0A2F")]
    [InlineData("u0100", "U0100")]
    [InlineData("B1234", "B1234")]
    [InlineData("C0035", "C0035")]
    [InlineData("P3400", "P3400")]
    public void A_code_is_read_as_typed(string typed, string code) => Assert.Equal(code, Code(typed).Text);

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("0304")]
    [InlineData("P030")]
    [InlineData("P03041")]
    [InlineData("P4304")]
    [InlineData("X0304")]
    [InlineData("P03G4")]
    [InlineData("P０304")]
    public void What_is_no_code_is_an_error_that_shows_one(string? typed) => Assert.Contains("P0304", TroubleCode.Parse(typed).Error!.Message, StringComparison.Ordinal);

    /// <summary>D06: cylinder numbers are decimal, so P0312 is cylinder 12 and P030C is none.</summary>
    [Theory]
    [InlineData("P0301", 1)]
    [InlineData("P0309", 9)]
    [InlineData("P0310", 10)]
    [InlineData("P0312", 12)]
    [InlineData("P0300", null)]
    [InlineData("P0313", null)]
    [InlineData("P030C", null)]
    [InlineData("C0301", null)]
    public void Misfire_codes_name_a_cylinder(string code, int? cylinder) => Assert.Equal(cylinder, Code(code).MisfireCylinder);

    [Theory]
    [InlineData("P0201", 1)]
    [InlineData("P0212", 12)]
    [InlineData("P0213", null)]
    [InlineData("P0261", 1)]
    [InlineData("P0263", 1)]
    [InlineData("P0264", 2)]
    [InlineData("P0296", 12)]
    [InlineData("P0297", null)]
    public void Injector_codes_name_a_cylinder(string code, int? cylinder) => Assert.Equal(cylinder, Code(code).InjectorCylinder);

    [Theory]
    [InlineData("P0351", 1)]
    [InlineData("P0362", 12)]
    [InlineData("P0350", null)]
    [InlineData("P2300", 1)]
    [InlineData("P2302", 1)]
    [InlineData("P2303", 2)]
    [InlineData("P2335", 12)]
    [InlineData("P2336", null)]
    public void Coil_codes_name_a_coil(string code, int? coil) => Assert.Equal(coil, Code(code).Coil);

    [Theory]
    [InlineData("P0171", 1, Mixture.Lean)]
    [InlineData("P0174", 2, Mixture.Lean)]
    [InlineData("P0172", 1, Mixture.Rich)]
    [InlineData("P0175", 2, Mixture.Rich)]
    [InlineData("P2187", 1, Mixture.Lean)]
    [InlineData("P2190", 2, Mixture.Rich)]
    [InlineData("P2193", 2, Mixture.Lean)]
    public void Mixture_codes_name_a_bank(string code, int bank, Mixture mixture) => Assert.Equal((bank, mixture), Code(code).BankMixture);

    /// <summary>D22: on 1-2-3-4-5-6 the companions are 1-4, 2-5 and 3-6, so coil B is taken as that of 2 and 5.</summary>
    [Theory]
    [InlineData(Ignition.CoilOnPlug, "P0352", "2")]
    [InlineData(Ignition.CoilNearPlug, "P0356", "6")]
    [InlineData(Ignition.CoilOnPlug, "P0357", "")]
    [InlineData(Ignition.WasteSpark, "P0352", "2 5")]
    [InlineData(Ignition.WasteSpark, "P0354", "")]
    [InlineData(Ignition.Distributor, "P0351", "")]
    [InlineData(Ignition.CoilOnPlug, "P0302", "")]
    public void A_coil_serves_the_cylinders_its_ignition_gives_it(Ignition ignition, string code, string cylinders)
    {
        var v6 = Bench.Make("V6", [[1, 3, 5], [2, 4, 6]], [1, 2, 3, 4, 5, 6], ignition);
        Assert.Equal(cylinders, string.Join(" ", Code(code).CoilCylinders(v6)));
    }

    [Theory]
    [InlineData("P0304", "Misfire of cylinder 4")]
    [InlineData("P0300", "Misfire of random or several cylinders")]
    [InlineData("P0265", "Injector of cylinder 2, circuit high")]
    [InlineData("P0357", "Ignition coil G, primary or secondary circuit")]
    [InlineData("P2305", "Ignition coil B, secondary circuit")]
    [InlineData("P0343", "Cam sensor A, bank 1")]
    [InlineData("P0102", "Air-mass signal")]
    [InlineData("P1516", "Maker's own code: see the maker's list")]
    [InlineData("P0A24", null)]
    public void A_code_has_short_words_or_none(string code, string? words) => Assert.Equal(words, Code(code).Words);

    [Fact]
    public void Reading_a_code_never_throws_and_gives_back_its_own_text() => Gen.String.Sample(text =>
    {
        var parsed = TroubleCode.Parse(text);
        Assert.True(!parsed.IsValid || TroubleCode.Parse(parsed.Value.Text).Value == parsed.Value);
    });
}
