using CsCheck;
using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Diagnosis.Tests.Vehicles;

public sealed class VinTests
{
    /// <summary>D01 to D03, and the example of SAE J1979 service 09 (D07): number, check digit that belongs in position 9.</summary>
    [Theory]
    [InlineData("1M8GDM9AXKP042788", 'X')]
    [InlineData("1G4AH59H?5G118341", '4')]
    [InlineData("11111111111111111", '1')]
    [InlineData("1G1JC5444R7252367", '4')]
    [InlineData("WP0ZZZ99ZTS392124", '8')]
    [InlineData("1M8GDM9AXKP042787", '8')]
    public void Check_digit_is_the_weighted_sum_modulo_eleven(string vin, char digit) => Assert.Equal(digit, Vin.CheckDigit(vin));

    [Theory]
    [InlineData("1M8GDM9AXKP042788", 1989)]
    [InlineData("1G4AH59H45G118341", 2005)]
    [InlineData("WP0ZZZ99ZTS392124", 1996)]
    [InlineData("1G4AH5AH85G118341", 2035)]
    [InlineData("11111111111111111", 2001)]
    public void Position_ten_gives_the_year_and_position_seven_its_cycle(string vin, int year) => Assert.Equal(year, Vin.Check(vin).ModelYear);

    [Theory]
    [InlineData("1G4AH5AH85G118341", 2027, 2005)]
    [InlineData("1G4AH5AH8DG118341", 2027, 2013)]
    [InlineData("1G4AH59H45G118341", 2000, null)]
    public void A_year_that_cannot_be_yet_belongs_to_the_cycle_before(string vin, int latest, int? year) =>
        Assert.Equal(year, Vin.Check(vin, latest).ModelYear);

    [Theory]
    [InlineData('U')]
    [InlineData('Z')]
    [InlineData('0')]
    public void Position_ten_without_a_year_gives_none(char code) => Assert.Null(Vin.Check($"1M8GDM9AX{code}P042788").ModelYear);

    [Theory]
    [InlineData("1m8gdm9ax kp-042788")]
    [InlineData("11111111111111111")]
    [InlineData("")]
    [InlineData(null)]
    public void A_sound_number_or_none_gives_no_warning(string? vin) => Assert.Empty(Vin.Check(vin).Warnings);

    [Fact]
    public void Blanks_and_hyphens_are_dropped_and_letters_raised() => Assert.Equal("1M8GDM9AXKP042788", Vin.Check("1m8gdm9ax kp-042788").Text);

    [Theory]
    [InlineData("1M8GDM9AXKP042787", "position 9 should be 8 and is X: most likely a typing error")]
    [InlineData("WP0ZZZ99ZTS392124", "position 9 would be 8 and is Z: a typing error, or a car not made for North America")]
    [InlineData("1M8GDM9AXKP04278", "16 characters")]
    [InlineData("1M8GDM9AXKPO42788", "holds no O; is it a 0?")]
    [InlineData("IM8GDM9AXKP042788", "holds no I; is it a 1?")]
    [InlineData("1M8GDM9AXKPQ42788", "holds no Q")]
    [InlineData("1M8GDM9AXKP04278?", "letters and digits only")]
    public void What_looks_wrong_is_warned_of_and_never_refused(string vin, string warning) =>
        Assert.Contains(Vin.Check(vin).Warnings, w => w.Contains(warning, StringComparison.Ordinal));

    [Fact]
    public void A_single_wrong_character_of_another_value_never_passes_the_check_digit()
    {
        const string Sound = "1M8GDM9AXKP042788";
        const string Digits = "0123456789";
        Gen.Select(Gen.Int[0, 16], Gen.Int[0, 9]).Where(g => g.Item1 != 8 && char.IsAsciiDigit(Sound[g.Item1]) && Sound[g.Item1] != Digits[g.Item2]).Sample((position, digit) =>
        {
            var typo = Sound[..position] + Digits[digit] + Sound[(position + 1)..];
            Assert.NotEmpty(Vin.Check(typo).Warnings);
        });
    }

    [Fact]
    public void Any_text_at_all_is_answered() => Gen.String.Sample(text => Assert.NotNull(Vin.Check(text)));
}
