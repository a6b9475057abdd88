using System.Collections.Immutable;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Web.Https;

namespace ShopDiag.Web.Tests.Https;

public sealed class ShopCertificateTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-https-").FullName;
    private readonly FakeTimeProvider _time = new(DateTimeOffset.UtcNow);
    private NetworkNames _names = Names("192.168.7.20");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_a_tablet_types_is_said_and_where_there_is_nothing_to_type_that_is_said()
    {
        var names = new NetworkNames(["shop"], [IPAddress.Parse("192.168.1.20"), IPAddress.Loopback, IPAddress.IPv6Loopback]);
        Assert.Equal("Tablets: https://192.168.1.20:5443.", names.TabletLine([5443]));
        Assert.Contains("no address in a private network", (names with { Addresses = [IPAddress.Loopback] }).TabletLine([5443]), StringComparison.Ordinal);
    }

    [Fact]
    public void A_tablet_that_trusts_the_authority_trusts_the_server_by_its_names_and_addresses()
    {
        using var certificate = Open();
        var server = certificate.Current();

        Assert.Empty(Faults(certificate, server));
        Assert.All(["bench", "bench.local", "192.168.7.20", "127.0.0.1"], n => Assert.True(server.MatchesHostname(n), n));
        Assert.True(server.HasPrivateKey);
        Assert.InRange(server.NotAfter - _time.GetUtcNow().UtcDateTime, TimeSpan.FromDays(390), TimeSpan.FromDays(398));
    }

    [Theory]
    [InlineData("bank.example", "192.168.7.20")]
    [InlineData("bench", "8.8.8.8")]
    public void The_authority_can_vouch_for_nothing_outside_a_private_network(string host, string address)
    {
        using var certificate = Open();
        _ = certificate.Current();
        _names = new([host], [IPAddress.Parse(address)]);
        _time.Advance(TimeSpan.FromMinutes(6));

        Assert.Contains(X509ChainStatusFlags.HasNotPermittedNameConstraint, Faults(certificate, certificate.Current()));
    }

    [Fact]
    public void After_a_restart_it_is_the_same_and_before_it_expires_another_of_the_same_authority()
    {
        byte[] authority, server;
        using (var first = Open())
        {
            (authority, server) = (first.Authority, first.Current().RawData);
        }

        using var second = Open();
        Assert.Equal((Convert.ToHexString(authority), Convert.ToHexString(server)), (Convert.ToHexString(second.Authority), Convert.ToHexString(second.Current().RawData)));
        _time.Advance(TimeSpan.FromDays(366));
        Assert.Equal(server, second.Current().RawData);
        _time.Advance(TimeSpan.FromDays(2));
        Assert.NotEqual(server, second.Current().RawData);
        Assert.Empty(Faults(second, second.Current()));
    }

    [Fact]
    public void Another_address_of_the_computer_gets_another_certificate_within_minutes()
    {
        using var certificate = Open();
        Assert.False(certificate.Current().MatchesHostname("10.1.2.3"));
        _names = Names("10.1.2.3");
        Assert.False(certificate.Current().MatchesHostname("10.1.2.3"));
        _time.Advance(TimeSpan.FromMinutes(6));
        Assert.True(certificate.Current().MatchesHostname("10.1.2.3"));
    }

    [Fact]
    public void The_keys_are_for_the_owner_alone()
    {
        using var certificate = Open();
        _ = certificate.Current();
        if (!OperatingSystem.IsWindows())
        {
            foreach (var file in Directory.GetFiles(Path.Combine(_folder, "https")))
            {
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
            }

            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(Path.Combine(_folder, "https")));
        }

        using var read = X509CertificateLoader.LoadCertificate(File.ReadAllBytes(certificate.AuthorityFile));
        Assert.False(read.HasPrivateKey);
    }

    [Fact]
    public void What_this_computer_is_called_now_can_be_served()
    {
        using var certificate = new ShopCertificate(_folder, _time);
        Assert.Empty(Faults(certificate, certificate.Current()));
    }

    private static NetworkNames Names(string address) => new(["bench", "bench.local", "localhost"], [IPAddress.Parse(address), IPAddress.Loopback]);

    private ShopCertificate Open() => new(_folder, _time, () => _names);

    private ImmutableArray<X509ChainStatusFlags> Faults(ShopCertificate certificate, X509Certificate2 server)
    {
        using var chain = new X509Chain();
        using var authority = X509CertificateLoader.LoadCertificate(certificate.Authority);
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(authority);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.VerificationTime = _time.GetUtcNow().LocalDateTime;
        chain.Build(server);
        return [.. chain.ChainStatus.Select(s => s.Status)];
    }
}
