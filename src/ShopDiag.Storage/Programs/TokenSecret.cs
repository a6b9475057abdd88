using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace ShopDiag.Storage.Programs;

/// <summary>The secret of a program: <c>shopdiag_</c> and 43 letters, 256 random bits. The prefix lets people, and tools that look through files for secrets, see what was left lying about.</summary>
public static class TokenSecret
{
    /// <summary>How every secret begins.</summary>
    public const string Prefix = "shopdiag_";

    /// <summary>Characters of a secret.</summary>
    public const int Length = 9 + 43;

    private const int Bytes = 32;

    /// <summary>A new one, from the generator of the operating system.</summary>
    public static string New() => Prefix + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>
    /// What is kept of a secret, 64 hexadecimal digits; null for a text that cannot be one. SHA-256 once, without salt or stretching: those slow down guessing passwords, of which people choose a
    /// few millions. Of these there are 2^256, all as likely, and the hash of one cannot be turned back or found by trying. So it may be looked up as a key: how long that takes could tell something
    /// of a hash at most, and a hash is of no use to whoever asks.
    /// </summary>
    public static string? Hash(string? secret) => secret is { Length: Length } && secret.StartsWith(Prefix, StringComparison.Ordinal) && secret.AsSpan(Prefix.Length).IndexOfAnyExcept(Letters) < 0
        ? Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(secret)))
        : null;

    private static readonly System.Buffers.SearchValues<char> Letters = System.Buffers.SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_");
}
