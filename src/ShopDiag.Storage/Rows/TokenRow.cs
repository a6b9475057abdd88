using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Storage.Programs;

namespace ShopDiag.Storage.Rows;

/// <summary>A token of a program as a row. The secret itself is with the program alone.</summary>
internal sealed class TokenRow
{
    public Guid Id { get; set; }

    public string Name { get; set; } = "";

    public string SecretHash { get; set; } = "";

    /// <summary>Names of grants, with commas between.</summary>
    public string Grants { get; set; } = "";

    public DateTime MadeAt { get; set; }

    public Guid MadeById { get; set; }

    public string MadeBy { get; set; } = "";

    public DateTime? ExpiresAt { get; set; }

    public DateTime? LastUsedAt { get; set; }

    public DateTime? RevokedAt { get; set; }

    public string RevokedBy { get; set; } = "";

    public static TokenRow Of(ProgramToken token, string secretHash) => new()
    {
        Id = token.Id,
        Name = token.Name,
        SecretHash = secretHash,
        Grants = string.Join(',', token.Grants),
        MadeAt = token.MadeAt,
        MadeById = token.MadeById,
        MadeBy = token.MadeBy,
        ExpiresAt = token.ExpiresAt,
        LastUsedAt = token.LastUsedAt,
        RevokedAt = token.RevokedAt,
        RevokedBy = token.RevokedBy,
    };

    public ProgramToken ToRecord() => new()
    {
        Id = Id,
        Name = Name,
        // A grant that this version does not know gives nothing.
        Grants = [.. Grants.Split(',').Select(g => Enum.TryParse<TokenGrant>(g, out var grant) && Enum.IsDefined(grant) ? grant : (TokenGrant?)null).OfType<TokenGrant>()],
        MadeAt = MadeAt,
        MadeById = MadeById,
        MadeBy = MadeBy,
        ExpiresAt = ExpiresAt,
        LastUsedAt = LastUsedAt,
        RevokedAt = RevokedAt,
        RevokedBy = RevokedBy,
    };
}

internal sealed class TokenTable : IEntityTypeConfiguration<TokenRow>
{
    public void Configure(EntityTypeBuilder<TokenRow> builder)
    {
        builder.ToTable("Tokens", t => t.HasCheckConstraint("CK_Tokens_SecretHash", "length(SecretHash) = 64 AND length(Name) > 0"));
        builder.HasIndex(t => t.SecretHash).IsUnique();
    }
}
