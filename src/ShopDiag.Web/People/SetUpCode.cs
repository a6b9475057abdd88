using System.Security.Cryptography;
using System.Text;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>
/// The code that makes somebody the owner of a new shop. It is written on the server's console and nowhere else, holds for half an hour, and is of no use once there is an owner. Asking for the
/// page after that writes another one.
/// </summary>
public sealed class SetUpCode(PeopleDirectory people, TimeProvider time)
{
    /// <summary>How long a code holds.</summary>
    public static readonly TimeSpan Holds = TimeSpan.FromMinutes(30);

    private const string Letters = "ABCDEFGHJKMNPQRSTUVWXYZ23456789";

    private readonly Lock _gate = new();
    private string _code = "";
    private DateTimeOffset _until;

    /// <summary>The code, made anew when the last one is too old; empty when the shop is set up.</summary>
    public string Current
    {
        get
        {
            lock (_gate)
            {
                if (!people.IsEmpty)
                {
                    return _code = "";
                }

                if (_code.Length == 0 || time.GetUtcNow() > _until)
                {
                    // 12 letters of 31 are 59 bits.
                    _code = string.Join('-', RandomNumberGenerator.GetString(Letters, 12).Chunk(4).Select(g => new string(g)));
                    _until = time.GetUtcNow() + Holds;
                    Write(_code);
                }

                return _code;
            }
        }
    }

    /// <summary>Where it is written. Not the log: logs are kept and sent about.</summary>
    public Action<string> Write { get; set; } = code => Console.WriteLine($"Set-up code: {code} (holds for {Holds.TotalMinutes:0} minutes; type it on the set-up page to become the owner)");

    /// <summary>True when it is the code. Case, blanks and hyphens do not count.</summary>
    public bool IsRight(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        return Current is { Length: > 0 } code && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(Tidy(code)), Encoding.UTF8.GetBytes(Tidy(typed)));
    }

    private static string Tidy(string code) => string.Concat(code.Where(char.IsLetterOrDigit)).ToUpperInvariant();
}
