using System.Security.Cryptography;
using System.Text;

namespace ShopDiag.Estimates;

/// <summary>Keys of lines that are made from a finding: the same finding on the same order gives the same keys, so that drafting twice adds nothing.</summary>
public static class LineKeys
{
    /// <summary>The key of a line on an order (a name-based UUID in the manner of RFC 9562, version 8, over SHA-256).</summary>
    public static Guid Of(Guid order, string origin)
    {
        Span<byte> hash = stackalloc byte[32];
        SHA256.HashData(Encoding.UTF8.GetBytes($"{order:N}\n{origin}"), hash);
        hash[6] = (byte)((hash[6] & 0x0F) | 0x80);
        hash[8] = (byte)((hash[8] & 0x3F) | 0x80);
        return new Guid(hash[..16], bigEndian: true);
    }
}
