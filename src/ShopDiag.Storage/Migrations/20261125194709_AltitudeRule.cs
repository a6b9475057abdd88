using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class AltitudeRule : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "AltitudeByDensity",
                table: "Settings",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "AltitudeByDensity",
                table: "Settings");
        }
    }
}
