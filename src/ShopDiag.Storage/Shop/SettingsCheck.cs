namespace ShopDiag.Storage.Shop;

/// <summary>What settings must be before they are kept.</summary>
internal static class SettingsCheck
{
    /// <summary>Throws <see cref="ArgumentException"/> naming what cannot be.</summary>
    public static void Check(ShopSettings settings)
    {
        Require(settings.Currency.Length == 3 && settings.Currency.All(char.IsAsciiLetterUpper), "The currency is three capital letters, such as USD.");
        Require(settings.LabourPerHourMinor >= 0, "The labour rate cannot be negative.");
        Require(settings.UnitSystem is "metric" or "us", "The unit system is metric or us.");
        Require(settings.Paper is "letter" or "a4", "The paper is letter or a4.");
        Require(double.IsFinite(settings.AltitudeMetres), "The height above sea level is a number of metres.");
        Require(settings.ComebackDays is >= 1 and <= 3650, "The days within which a comeback counts are a whole number from 1 to 3650.");
        Require(settings.ComebackKilometres is null or (>= 1 and <= 1_000_000), "The kilometres within which a comeback counts are a whole number from 1 to 1,000,000, or none.");
        Require(settings.Keeping.NightlyHour is >= 0 and <= 23, "The hour of the nightly backup is from 0 to 23.");
        Require(settings.Keeping.BackupDays is >= 1 and <= 366, "The days of which a backup is kept are from 1 to 366.");
        Require(settings.Keeping.BackupWeeks is >= 0 and <= 520 && settings.Keeping.BackupMonths is >= 0 and <= 240, "Backups are kept of 0 to 520 weeks and 0 to 240 months.");
        Require(settings.Keeping.EraseAfterYears is null or (>= 1 and <= 99), "Customers are erased after 1 to 99 years, or never.");
        Require(settings.LockAfterMinutes is >= 0 and <= 240, "The minutes after which a tablet locks are a whole number from 0 (never) to 240.");
        Require(!settings.Tools.IsDefault, "The list of tools may be empty but not missing.");

        void Require(bool holds, string message)
        {
            if (!holds)
            {
                throw new ArgumentException(message, nameof(settings));
            }
        }
    }
}
