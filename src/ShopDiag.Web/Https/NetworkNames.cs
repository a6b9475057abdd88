using System.Collections.Immutable;
using System.Formats.Asn1;
using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;

namespace ShopDiag.Web.Https;

/// <summary>By which names and addresses this computer is reached on the shop's network. Addresses of the open internet are left out.</summary>
/// <param name="Hosts">Names, the computer's own first.</param>
/// <param name="Addresses">Private, link-local and loopback addresses.</param>
public sealed record NetworkNames(ImmutableArray<string> Hosts, ImmutableArray<IPAddress> Addresses)
{
    // RFC 1918, 3927, 4193, 4291: what a shop's network uses. Asn1 wants address and mask.
    private static readonly ImmutableArray<IPNetwork> Private =
    [
        .. new[] { "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128" }.Select(IPNetwork.Parse),
    ];

    private static readonly string[] PrivateDomains = ["localhost", "local", "lan", "home.arpa", "internal"];

    /// <summary>The addresses that a tablet can type: no loopback, no link-local.</summary>
    public IEnumerable<IPAddress> ForTablets => Addresses.Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a));

    /// <summary>What a tablet types, in words, for the ports that are served.</summary>
    public string TabletLine(ImmutableArray<int> ports) => ForTablets.SelectMany(a => ports.Select(p => $"https://{a}:{p}")).ToArray() is { Length: > 0 } addresses
        ? $"Tablets: {string.Join(" ", addresses)}."
        : "Tablets: this computer has no address in a private network, so none can reach it. Join it to the shop's network and start again.";

    /// <summary>As they are now.</summary>
    public static NetworkNames Now()
    {
        var host = Dns.GetHostName().Split('.')[0].ToLowerInvariant();
        var named = Uri.CheckHostName(host) == UriHostNameType.Dns ? host : "shopdiag";
        var addresses = NetworkInterface.GetAllNetworkInterfaces().Where(n => n.OperationalStatus == OperationalStatus.Up)
            .SelectMany(n => n.GetIPProperties().UnicastAddresses).Select(a => a.Address).Where(a => !a.IsIPv6LinkLocal && IsPrivate(a));
        return new(
            [.. new[] { named, $"{named}.local", "localhost" }.Distinct()],
            [.. addresses.Append(IPAddress.Loopback).Append(IPAddress.IPv6Loopback).Distinct().OrderBy(a => a.AddressFamily).ThenBy(a => a.ToString(), StringComparer.Ordinal)]);
    }

    /// <summary>
    /// What the authority may vouch for (RFC 5280, 4.2.1.10): names of a private network, and the computer's own. A key that is stolen from the data folder cannot pose as a bank to
    /// the tablets that trust it.
    /// </summary>
    public static X509Extension Constraints(IEnumerable<string> hosts)
    {
        var asn = new AsnWriter(AsnEncodingRules.DER);
        using (asn.PushSequence())
        using (asn.PushSequence(new Asn1Tag(TagClass.ContextSpecific, 0)))
        {
            foreach (var domain in PrivateDomains.Concat(hosts).Distinct())
            {
                using (asn.PushSequence())
                {
                    asn.WriteCharacterString(UniversalTagNumber.IA5String, domain, new Asn1Tag(TagClass.ContextSpecific, 2));
                }
            }

            foreach (var network in Private)
            {
                using (asn.PushSequence())
                {
                    asn.WriteOctetString([.. network.BaseAddress.GetAddressBytes(), .. Mask(network)], new Asn1Tag(TagClass.ContextSpecific, 7));
                }
            }
        }

        return new("2.5.29.30", asn.Encode(), critical: true);
    }

    private static bool IsPrivate(IPAddress address) => Private.Any(n => n.BaseAddress.AddressFamily == address.AddressFamily && n.Contains(address));

    private static byte[] Mask(IPNetwork network)
    {
        var mask = new byte[network.BaseAddress.GetAddressBytes().Length];
        for (var bit = 0; bit < network.PrefixLength; bit++)
        {
            mask[bit / 8] |= (byte)(0x80 >> (bit % 8));
        }

        return mask;
    }
}
