using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class Comebacks : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "ComebackDays",
                table: "Settings",
                type: "INTEGER",
                nullable: false,
                defaultValue: 365);

            migrationBuilder.AddColumn<int>(
                name: "ComebackKilometres",
                table: "Settings",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "ComebackAnswer",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "Undecided");

            migrationBuilder.AddColumn<DateTime>(
                name: "ComebackAnsweredAt",
                table: "Orders",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "ComebackAnsweredBy",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            // Orders entered as comebacks before this were called that by whoever entered them; shops so far go by the usual window. Before the conditions, which ask for it.
            migrationBuilder.Sql("UPDATE Orders SET ComebackAnswer = 'Yes', ComebackAnsweredAt = CreatedAt WHERE ComebackOf IS NOT NULL");
            migrationBuilder.Sql("UPDATE Settings SET ComebackKilometres = 20000");

            migrationBuilder.AddCheckConstraint(
                name: "CK_Settings_Comebacks",
                table: "Settings",
                sql: "ComebackDays BETWEEN 1 AND 3650 AND (ComebackKilometres IS NULL OR ComebackKilometres BETWEEN 1 AND 1000000)");

            migrationBuilder.AddCheckConstraint(
                name: "CK_Orders_Comeback",
                table: "Orders",
                sql: "ComebackAnswer IN ('Undecided', 'Yes', 'No', 'OtherTrouble') AND (ComebackAnswer = 'Yes') = (ComebackOf IS NOT NULL)");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropCheckConstraint(
                name: "CK_Settings_Comebacks",
                table: "Settings");

            migrationBuilder.DropCheckConstraint(
                name: "CK_Orders_Comeback",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ComebackDays",
                table: "Settings");

            migrationBuilder.DropColumn(
                name: "ComebackKilometres",
                table: "Settings");

            migrationBuilder.DropColumn(
                name: "ComebackAnswer",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ComebackAnsweredAt",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ComebackAnsweredBy",
                table: "Orders");
        }
    }
}
