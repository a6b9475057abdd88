using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class LearnFromCases : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "LearnFromCases",
                table: "Settings",
                type: "INTEGER",
                nullable: false,
                defaultValue: true);

            migrationBuilder.CreateTable(
                name: "ProvenDiagnoses",
                columns: table => new
                {
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Cause = table.Column<string>(type: "TEXT", nullable: false),
                    EngineFamily = table.Column<string>(type: "TEXT", nullable: false),
                    ProvenAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ProvenDiagnoses", x => new { x.OrderId, x.Cause });
                    table.ForeignKey(
                        name: "FK_ProvenDiagnoses_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ProvenDiagnoses_Cause_EngineFamily_OrderId",
                table: "ProvenDiagnoses",
                columns: new[] { "Cause", "EngineFamily", "OrderId" });

            // What was proven before there was anything to count it: the newest finding of each order, as ProvenDiagnoses.Of reads it.
            migrationBuilder.Sql(
                """
                INSERT INTO ProvenDiagnoses (OrderId, Cause, EngineFamily, ProvenAt)
                SELECT DISTINCT f.OrderId, json_extract(cause.value, '$.cause'),
                    json_extract(v.EngineJson, '$.ignition') || '/' || json_extract(v.EngineJson, '$.injection') || '/' || upper(trim(json_extract(v.EngineJson, '$.layout'))),
                    replace(replace(json_extract(f.FindingJson, '$.at'), 'T', ' '), 'Z', '')
                FROM Findings f
                JOIN Orders o ON o.Id = f.OrderId
                JOIN Vehicles v ON v.Id = o.VehicleId
                JOIN json_each(f.FindingJson, '$.conclusion.causes') cause
                WHERE f.Sequence = (SELECT max(newer.Sequence) FROM Findings newer WHERE newer.OrderId = f.OrderId)
                    AND f.FindingJson IS NOT NULL
                    AND json_extract(f.FindingJson, '$.unprovenReason') IS NULL
                    AND json_array_length(f.FindingJson, '$.conclusion.proof') > 0
                    AND v.EngineJson IS NOT NULL;
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ProvenDiagnoses");

            migrationBuilder.DropColumn(
                name: "LearnFromCases",
                table: "Settings");
        }
    }
}
