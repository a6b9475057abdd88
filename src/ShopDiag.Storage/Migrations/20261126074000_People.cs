using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class People : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "LockAfterMinutes",
                table: "Settings",
                type: "INTEGER",
                nullable: false,
                defaultValue: 10);

            migrationBuilder.CreateTable(
                name: "Audit",
                columns: table => new
                {
                    Sequence = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    At = table.Column<DateTime>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: true),
                    CommandId = table.Column<Guid>(type: "TEXT", nullable: true),
                    PersonId = table.Column<Guid>(type: "TEXT", nullable: true),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Way = table.Column<string>(type: "TEXT", nullable: false),
                    Device = table.Column<string>(type: "TEXT", nullable: false),
                    What = table.Column<string>(type: "TEXT", nullable: false),
                    Before = table.Column<string>(type: "TEXT", nullable: true),
                    After = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Audit", x => x.Sequence);
                    table.ForeignKey(
                        name: "FK_Audit_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Devices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    SecretHash = table.Column<string>(type: "TEXT", nullable: false),
                    RememberedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    RememberedBy = table.Column<string>(type: "TEXT", nullable: false),
                    LastUsedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    ForgottenAt = table.Column<DateTime>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Devices", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "People",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Login = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Role = table.Column<string>(type: "TEXT", nullable: false),
                    IsActive = table.Column<bool>(type: "INTEGER", nullable: false),
                    PasswordHash = table.Column<string>(type: "TEXT", nullable: false),
                    MustChangePassword = table.Column<bool>(type: "INTEGER", nullable: false),
                    Stamp = table.Column<string>(type: "TEXT", nullable: false),
                    PasswordFailures = table.Column<int>(type: "INTEGER", nullable: false),
                    PasswordBlockedUntil = table.Column<DateTime>(type: "TEXT", nullable: true),
                    PinHash = table.Column<string>(type: "TEXT", nullable: false),
                    PinFailures = table.Column<int>(type: "INTEGER", nullable: false),
                    PinBlockedUntil = table.Column<DateTime>(type: "TEXT", nullable: true),
                    CreatedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    LastSignInAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    Version = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_People", x => x.Id);
                    table.CheckConstraint("CK_People_Login", "length(Login) > 0 AND length(Name) > 0 AND length(Stamp) > 0");
                    table.CheckConstraint("CK_People_Role", "Role IN ('Technician', 'Advisor', 'Owner')");
                });

            migrationBuilder.AddCheckConstraint(
                name: "CK_Settings_Lock",
                table: "Settings",
                sql: "LockAfterMinutes BETWEEN 0 AND 240");

            migrationBuilder.CreateIndex(
                name: "IX_Audit_OrderId_Sequence",
                table: "Audit",
                columns: new[] { "OrderId", "Sequence" });

            migrationBuilder.CreateIndex(
                name: "IX_People_Login",
                table: "People",
                column: "Login",
                unique: true);

            OldRecord.Copy(migrationBuilder);
            AppendOnly.Guard(migrationBuilder, "Audit");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Audit");

            migrationBuilder.DropTable(
                name: "Devices");

            migrationBuilder.DropTable(
                name: "People");

            migrationBuilder.DropCheckConstraint(
                name: "CK_Settings_Lock",
                table: "Settings");

            migrationBuilder.DropColumn(
                name: "LockAfterMinutes",
                table: "Settings");
        }
    }
}
