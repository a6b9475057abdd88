using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>What passwords must be, and their hashes.</summary>
public sealed class Passwords(IPasswordHasher<Account> hasher)
{
    /// <summary>Shortest password, characters. Length is all that is asked of its composition (ASVS 5.0, 6.2.1 and 6.2.5).</summary>
    public const int Shortest = 10;

    /// <summary>Longest password, characters: hashing a novel would be a way to keep the server busy.</summary>
    public const int Longest = 128;

    // Of 0 to 4: 3 is "safely unguessable, moderate protection from an offline attack" by the estimator's own scale.
    private const int LeastScore = 3;

    // Without what is easily misread: no I, l, 1, O, 0.
    private const string Letters = "ABCDEFGHJKMNPQRSTUVWXYZ23456789";

    // What an unknown name is measured against, so that it takes as long as a wrong password.
    private readonly string _dummy = hasher.HashPassword(null!, "nobody");

    /// <summary>Why a password is not taken; null when it is.</summary>
    /// <param name="password">The password.</param>
    /// <param name="about">Words that anybody would try: the person's and the shop's names.</param>
    public static string? Fault(string password, params string[] about)
    {
        ArgumentNullException.ThrowIfNull(password);
        if (password.Length is < Shortest or > Longest)
        {
            return $"A password has {Shortest} to {Longest} characters. A few words that do not belong together are easy to keep in mind.";
        }

        return Zxcvbn.Zxcvbn.MatchPassword(password, about).Score < LeastScore
            ? "This password is too easily guessed: it is among those that are tried first, or made of a name, a date or a row of keys. Take a few words that do not belong together."
            : null;
    }

    /// <summary>A password to hand over, good for one sign-in: three groups of four, easy to read out.</summary>
    public static string NewTemporary() => string.Join('-', RandomNumberGenerator.GetString(Letters, 12).Chunk(4).Select(g => new string(g)));

    /// <summary>Hash of a password.</summary>
    public string Hash(string password) => hasher.HashPassword(null!, password);

    /// <summary>True when it is the person's password.</summary>
    public bool IsRight(Person person, string password)
    {
        ArgumentNullException.ThrowIfNull(person);
        return person.PasswordHash.Length > 0 && hasher.VerifyHashedPassword(null!, person.PasswordHash, password) != PasswordVerificationResult.Failed;
    }

    /// <summary>Takes as long as a wrong password.</summary>
    public void WasteTime(string password) => hasher.VerifyHashedPassword(null!, _dummy, password);
}

/// <summary>
/// What PINs must be, and their hashes. Six digits alone are a million guesses, no more than an evening's work for whoever has the database: a key of this installation is hashed with them, which lies
/// beside the database and not in it.
/// </summary>
public sealed class Pins(IPasswordHasher<Account> hasher, string dataFolder)
{
    /// <summary>Digits of a PIN.</summary>
    public const int Digits = 6;

    private const int KeyBytes = 32;
    private readonly Lazy<byte[]> _key = new(() => Key(Path.Combine(dataFolder, "keys", "pin.key")));

    /// <summary>Why a PIN is not taken; null when it is.</summary>
    public static string? Fault(string pin)
    {
        ArgumentNullException.ThrowIfNull(pin);
        if (pin.Length != Digits || !pin.All(char.IsAsciiDigit))
        {
            return $"A PIN is {Digits} digits.";
        }

        var steps = pin.Zip(pin.Skip(1), (a, b) => (b - a + 10) % 10).Distinct().ToArray();
        return steps is [0 or 1 or 9] || pin[..2] == pin[2..4] && pin[2..4] == pin[4..] || pin[..3] == pin[3..]
            ? "This PIN is among the first that anybody tries. Take six digits without a pattern."
            : null;
    }

    /// <summary>Hash of a PIN.</summary>
    public string Hash(string pin) => hasher.HashPassword(null!, Keyed(pin));

    /// <summary>True when it is the person's PIN.</summary>
    public bool IsRight(Person person, string pin)
    {
        ArgumentNullException.ThrowIfNull(person);
        return person.PinHash.Length > 0 && hasher.VerifyHashedPassword(null!, person.PinHash, Keyed(pin)) != PasswordVerificationResult.Failed;
    }

    private static byte[] Key(string file)
    {
        if (!File.Exists(file))
        {
            OwnerOnly.MakeFolder(Path.GetDirectoryName(file)!, close: true);
            OwnerOnly.Write(file, RandomNumberGenerator.GetBytes(KeyBytes));
        }

        return File.ReadAllBytes(file);
    }

    private string Keyed(string pin) => Convert.ToHexString(HMACSHA256.HashData(_key.Value, Encoding.UTF8.GetBytes(pin)));
}
