using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class KeepEstimates : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropCheckConstraint(
                name: "CK_Settings_Json",
                table: "Settings");

            migrationBuilder.AddColumn<string>(
                name: "PricingJson",
                table: "Settings",
                type: "TEXT",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.AddColumn<int>(
                name: "MinutesSpent",
                table: "Orders",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "WrittenCause",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "WrittenConcern",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "WrittenCorrection",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "Approvals",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    At = table.Column<DateTime>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    Person = table.Column<string>(type: "TEXT", nullable: false),
                    Way = table.Column<string>(type: "TEXT", nullable: false),
                    Contact = table.Column<string>(type: "TEXT", nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false),
                    DecisionsJson = table.Column<string>(type: "TEXT", nullable: false),
                    SignatureJson = table.Column<string>(type: "TEXT", nullable: true),
                    OldPartsBack = table.Column<bool>(type: "INTEGER", nullable: false),
                    Terms = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Approvals", x => x.Id);
                    table.CheckConstraint("CK_Approvals_Json", "json_valid(DecisionsJson) AND (SignatureJson IS NULL OR json_valid(SignatureJson))");
                    table.ForeignKey(
                        name: "FK_Approvals_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Estimates",
                columns: table => new
                {
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    LinesJson = table.Column<string>(type: "TEXT", nullable: false),
                    ChangedAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Estimates", x => x.OrderId);
                    table.CheckConstraint("CK_Estimates_LinesJson", "json_valid(LinesJson)");
                    table.ForeignKey(
                        name: "FK_Estimates_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Parts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    LineId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    Text = table.Column<string>(type: "TEXT", nullable: false),
                    Position = table.Column<string>(type: "TEXT", nullable: false),
                    MustMatch = table.Column<string>(type: "TEXT", nullable: false),
                    Together = table.Column<bool>(type: "INTEGER", nullable: false),
                    Quantity = table.Column<int>(type: "INTEGER", nullable: false),
                    State = table.Column<string>(type: "TEXT", nullable: false),
                    Vendor = table.Column<string>(type: "TEXT", nullable: false),
                    Maker = table.Column<string>(type: "TEXT", nullable: false),
                    PartNumber = table.Column<string>(type: "TEXT", nullable: false),
                    ExpectedOn = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    CoreMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    CoreBack = table.Column<bool>(type: "INTEGER", nullable: false),
                    Unproven = table.Column<bool>(type: "INTEGER", nullable: false),
                    MovesJson = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Parts", x => x.Id);
                    table.CheckConstraint("CK_Parts_CoreMinor", "typeof(CoreMinor) = 'integer' AND CoreMinor >= 0");
                    table.CheckConstraint("CK_Parts_MovesJson", "json_valid(MovesJson)");
                    table.CheckConstraint("CK_Parts_Quantity", "typeof(Quantity) = 'integer' AND Quantity >= 1");
                    table.ForeignKey(
                        name: "FK_Parts_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Prices",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    For = table.Column<string>(type: "TEXT", nullable: false),
                    PriceMinor = table.Column<long>(type: "INTEGER", nullable: true),
                    CoreMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    Minutes = table.Column<double>(type: "REAL", nullable: true),
                    Vendor = table.Column<string>(type: "TEXT", nullable: false),
                    Maker = table.Column<string>(type: "TEXT", nullable: false),
                    PartNumber = table.Column<string>(type: "TEXT", nullable: false),
                    EveryOrder = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Prices", x => x.Key);
                    table.CheckConstraint("CK_Prices_Amounts", "(PriceMinor IS NULL OR (typeof(PriceMinor) = 'integer' AND PriceMinor >= 0)) AND typeof(CoreMinor) = 'integer' AND CoreMinor >= 0");
                });

            migrationBuilder.AddCheckConstraint(
                name: "CK_Settings_Json",
                table: "Settings",
                sql: "json_valid(UnitsJson) AND json_valid(ToolsJson) AND json_valid(PricingJson)");

            migrationBuilder.CreateIndex(
                name: "IX_Approvals_OrderId_Sequence",
                table: "Approvals",
                columns: new[] { "OrderId", "Sequence" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Parts_OrderId_Sequence",
                table: "Parts",
                columns: new[] { "OrderId", "Sequence" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Parts_State",
                table: "Parts",
                column: "State");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Approvals");

            migrationBuilder.DropTable(
                name: "Estimates");

            migrationBuilder.DropTable(
                name: "Parts");

            migrationBuilder.DropTable(
                name: "Prices");

            migrationBuilder.DropCheckConstraint(
                name: "CK_Settings_Json",
                table: "Settings");

            migrationBuilder.DropColumn(
                name: "PricingJson",
                table: "Settings");

            migrationBuilder.DropColumn(
                name: "MinutesSpent",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "WrittenCause",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "WrittenConcern",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "WrittenCorrection",
                table: "Orders");

            migrationBuilder.AddCheckConstraint(
                name: "CK_Settings_Json",
                table: "Settings",
                sql: "json_valid(UnitsJson) AND json_valid(ToolsJson)");
        }
    }
}
