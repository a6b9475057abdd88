using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Web.Https;

/// <summary>
/// The shop's own certificate for https on its network. An authority of the shop, made once and trusted once on each tablet, signs the server's certificate, which is made anew
/// before it expires and when the computer gets another address. Both lie in <c>https/</c> of the data folder, for the owner of the folder alone.
/// </summary>
public sealed class ShopCertificate : IDisposable
{
    /// <summary>Tablets refuse longer ones: Apple takes 825 days from an authority that a person installed, browsers 398 from the public ones.</summary>
    private static readonly TimeSpan ServerLife = TimeSpan.FromDays(397);

    private static readonly TimeSpan AuthorityLife = TimeSpan.FromDays(3650);
    private static readonly TimeSpan RenewBefore = TimeSpan.FromDays(30);
    private static readonly TimeSpan LookEvery = TimeSpan.FromMinutes(5);

    // A clock that is a little behind must not find a certificate of the future.
    private static readonly TimeSpan Backdated = TimeSpan.FromDays(1);

    private const string ServerAuthentication = "1.3.6.1.5.5.7.3.1";

    private readonly Lock _gate = new();
    private readonly string _folder;
    private readonly TimeProvider _time;
    private readonly Func<NetworkNames> _names;
    private readonly X509Certificate2 _authority;
    private X509Certificate2? _server;
    private DateTimeOffset _looked;

    /// <summary>Reads or makes the authority. Throws <see cref="CryptographicException"/> for a file that is damaged, and what the file system throws.</summary>
    public ShopCertificate(string dataFolder, TimeProvider time)
        : this(dataFolder, time, NetworkNames.Now)
    {
    }

    internal ShopCertificate(string dataFolder, TimeProvider time, Func<NetworkNames> names)
    {
        ArgumentNullException.ThrowIfNull(time);
        (_folder, _time, _names) = (Path.Combine(dataFolder, "https"), time, names);
        OwnerOnly.MakeFolder(_folder, close: true);
        var file = Path.Combine(_folder, "authority.pfx");
        if (Read(file) is { } kept && kept.NotAfter > time.GetUtcNow().UtcDateTime + ServerLife)
        {
            _authority = kept;
        }
        else
        {
            _authority = MakeAuthority(names());
            OwnerOnly.Write(file, _authority.Export(X509ContentType.Pkcs12));
            OwnerOnly.Write(Path.Combine(_folder, "authority.crt"), _authority.Export(X509ContentType.Cert));
        }
    }

    /// <summary>What a tablet has to trust, without its key (DER).</summary>
    public byte[] Authority => _authority.Export(X509ContentType.Cert);

    /// <summary>Where the same lies as a file.</summary>
    public string AuthorityFile => Path.Combine(_folder, "authority.crt");

    /// <summary>The server's certificate, valid and for the present names; made when there is none such. Called for each connection.</summary>
    public X509Certificate2 Current()
    {
        lock (_gate)
        {
            var now = _time.GetUtcNow();
            if (_server is null || now - _looked > LookEvery)
            {
                _looked = now;
                var names = _names();
                _server ??= Read(Path.Combine(_folder, "server.pfx"));
                if (_server is null || !Serves(_server, names, now))
                {
                    // The one before may be in use by a connection: it is left to the garbage collector.
                    _server = MakeServer(names, now);
                    OwnerOnly.Write(Path.Combine(_folder, "server.pfx"), _server.Export(X509ContentType.Pkcs12));
                }
            }

            return _server;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _authority.Dispose();
        _server?.Dispose();
    }

    private static X509Certificate2? Read(string file) =>
        File.Exists(file) ? X509CertificateLoader.LoadPkcs12FromFile(file, null, X509KeyStorageFlags.Exportable) : null;

    private bool Serves(X509Certificate2 server, NetworkNames names, DateTimeOffset now) =>
        server.NotAfter > (now + RenewBefore).UtcDateTime
        && server.IssuerName.RawData.AsSpan().SequenceEqual(_authority.SubjectName.RawData)
        && names.Hosts.All(h => server.MatchesHostname(h, allowWildcards: false, allowCommonName: false))
        && names.Addresses.All(a => server.MatchesHostname(a.ToString(), allowWildcards: false, allowCommonName: false));

    private X509Certificate2 MakeAuthority(NetworkNames names)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        // The number keeps a new authority apart from an older one of the same name that a tablet may still trust.
        var request = new CertificateRequest($"CN=ShopDiag on {names.Hosts[0]} {RandomNumberGenerator.GetHexString(6)}, O=ShopDiag of this shop", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, hasPathLengthConstraint: true, pathLengthConstraint: 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign, critical: true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false));
        request.CertificateExtensions.Add(NetworkNames.Constraints(names.Hosts));
        var now = _time.GetUtcNow();
        return request.CreateSelfSigned(now - Backdated, now + AuthorityLife);
    }

    private X509Certificate2 MakeServer(NetworkNames names, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN={names.Hosts[0]}", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: false, hasPathLengthConstraint: false, pathLengthConstraint: 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, critical: true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new(ServerAuthentication)], critical: false));
        request.CertificateExtensions.Add(X509AuthorityKeyIdentifierExtension.CreateFromCertificate(_authority, includeKeyIdentifier: true, includeIssuerAndSerial: false));
        var alternative = new SubjectAlternativeNameBuilder();
        foreach (var host in names.Hosts)
        {
            alternative.AddDnsName(host);
        }

        foreach (IPAddress address in names.Addresses)
        {
            alternative.AddIpAddress(address);
        }

        request.CertificateExtensions.Add(alternative.Build());
        using var signed = request.Create(_authority, now - Backdated, now + ServerLife, RandomNumberGenerator.GetBytes(16));
        using var whole = signed.CopyWithPrivateKey(key);
        // Some platforms serve only with a key that went through the store's form.
        return X509CertificateLoader.LoadPkcs12(whole.Export(X509ContentType.Pkcs12), null, X509KeyStorageFlags.Exportable);
    }
}
