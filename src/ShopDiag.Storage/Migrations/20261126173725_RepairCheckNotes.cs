using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class RepairCheckNotes : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "CodesCleared",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "MonitorsNoted",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            // A case says since then whether the repair check came to an answer; the cases are made anew when the shop is opened.
            migrationBuilder.Sql("DELETE FROM Cases;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "CodesCleared",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "MonitorsNoted",
                table: "Orders");
        }
    }
}
