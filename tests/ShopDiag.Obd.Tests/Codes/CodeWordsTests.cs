using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Codes;

namespace ShopDiag.Obd.Tests.Codes;

public sealed class CodeWordsTests
{
    [Theory]
    [InlineData("P0301", "Misfire of cylinder 1")]
    [InlineData("P0171", "Too lean, bank 1")]
    [InlineData("P0102", "Air mass sensor: low")]
    [InlineData("P0133", "Oxygen sensor 1, bank 1: answers slowly")]
    [InlineData("P0141", "Oxygen sensor 2, bank 1: heater circuit")]
    [InlineData("P0157", "Oxygen sensor 2, bank 2: voltage low")]
    [InlineData("P0346", "Cam sensor A, bank 2: out of range")]
    [InlineData("P0455", "Fuel vapour system: large leak")]
    [InlineData("U0100", "No messages from the engine computer")]
    public void A_listed_code_has_words_of_its_own(string code, string words)
    {
        Assert.Equal(words, CodeWords.For(TroubleCode.Parse(code).Value));
        Assert.True(CodeWords.HasOwn(TroubleCode.Parse(code).Value));
    }

    [Theory]
    [InlineData("P1516", "Powertrain, vehicle speed, idle and auxiliary inputs: the maker's own code")]
    [InlineData("P030C", "Powertrain, ignition or misfire: a general code that is not in this program's list")]
    [InlineData("C0035", "Chassis: a general code")]
    [InlineData("B1234", "Body: the maker's own code")]
    [InlineData("U2100", "Network: the maker's own code")]
    [InlineData("P3300", "Powertrain: the maker's own code")]
    [InlineData("P0A24", "Powertrain, hybrid or electric drive: a general code")]
    public void Any_other_says_what_its_structure_says(string code, string starts)
    {
        Assert.StartsWith(starts, CodeWords.For(TroubleCode.Parse(code).Value), StringComparison.Ordinal);
        Assert.False(CodeWords.HasOwn(TroubleCode.Parse(code).Value));
    }

    [Fact]
    public void Every_code_there_can_be_has_words()
    {
        for (var n = 0; n <= 0xFFFF; n++)
        {
            Assert.NotEmpty(CodeWords.For(ShopDiag.Obd.Messages.CodeDecoder.Code((byte)(n >> 8), (byte)n)));
        }
    }

    [Fact]
    public void Every_code_in_the_file_is_one() => Assert.All(CodeWords.Listed, c => Assert.Equal(c, TroubleCode.Parse(c).Value.Text));
}
