using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Rows;

/// <summary>A person as a row.</summary>
internal sealed class PersonRow
{
    public Guid Id { get; set; }

    public string Login { get; set; } = "";

    public string Name { get; set; } = "";

    public PersonRole Role { get; set; }

    public bool IsActive { get; set; }

    public string PasswordHash { get; set; } = "";

    public bool MustChangePassword { get; set; }

    public string Stamp { get; set; } = "";

    public int PasswordFailures { get; set; }

    public DateTime? PasswordBlockedUntil { get; set; }

    public string PinHash { get; set; } = "";

    public int PinFailures { get; set; }

    public DateTime? PinBlockedUntil { get; set; }

    public string PasskeysJson { get; set; } = "[]";

    public DateTime CreatedAt { get; set; }

    public DateTime? LastSignInAt { get; set; }

    public Guid Version { get; set; }

    public static PersonRow Of(Person person) => new()
    {
        Id = person.Id,
        Login = person.Login,
        Name = person.Name,
        Role = person.Role,
        IsActive = person.IsActive,
        PasswordHash = person.PasswordHash,
        MustChangePassword = person.MustChangePassword,
        Stamp = person.Stamp,
        PasswordFailures = person.PasswordFailures,
        PasswordBlockedUntil = person.PasswordBlockedUntil,
        PinHash = person.PinHash,
        PinFailures = person.PinFailures,
        PinBlockedUntil = person.PinBlockedUntil,
        PasskeysJson = StorageJson.Write(person.Passkeys),
        CreatedAt = person.CreatedAt,
        LastSignInAt = person.LastSignInAt,
        Version = person.Version,
    };

    public Person ToRecord() => new()
    {
        Id = Id,
        Login = Login,
        Name = Name,
        Role = Role,
        IsActive = IsActive,
        PasswordHash = PasswordHash,
        MustChangePassword = MustChangePassword,
        Stamp = Stamp,
        PasswordFailures = PasswordFailures,
        PasswordBlockedUntil = PasswordBlockedUntil,
        PinHash = PinHash,
        PinFailures = PinFailures,
        PinBlockedUntil = PinBlockedUntil,
        Passkeys = StorageJson.Read<Passkey[]>(PasskeysJson) is { Length: > 0 } passkeys ? [.. passkeys] : [],
        CreatedAt = CreatedAt,
        LastSignInAt = LastSignInAt,
        Version = Version,
    };
}

internal sealed class PersonTable : IEntityTypeConfiguration<PersonRow>
{
    public void Configure(EntityTypeBuilder<PersonRow> builder)
    {
        builder.ToTable("People", t =>
        {
            t.HasCheckConstraint("CK_People_Role", "Role IN ('Technician', 'Advisor', 'Owner')");
            t.HasCheckConstraint("CK_People_Login", "length(Login) > 0 AND length(Name) > 0 AND length(Stamp) > 0");
        });
        builder.Property(p => p.Role).HasConversion<string>();
        builder.Property(p => p.PasskeysJson).HasDefaultValue("[]");
        builder.HasIndex(p => p.Login).IsUnique();
    }
}

/// <summary>A device on which people may switch by PIN. The secret itself is only in the device's cookie.</summary>
internal sealed class DeviceRow
{
    public Guid Id { get; set; }

    public string Name { get; set; } = "";

    public string SecretHash { get; set; } = "";

    public DateTime RememberedAt { get; set; }

    public string RememberedBy { get; set; } = "";

    public DateTime LastUsedAt { get; set; }

    public DateTime? ForgottenAt { get; set; }

    public ShopDevice ToRecord() => new(Id, Name, RememberedAt, RememberedBy, LastUsedAt);
}

internal sealed class DeviceTable : IEntityTypeConfiguration<DeviceRow>
{
    public void Configure(EntityTypeBuilder<DeviceRow> builder) => builder.ToTable("Devices");
}
