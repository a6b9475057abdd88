using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class KeepSummaries : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "PlateKey",
                table: "Vehicles",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "VinKey",
                table: "Vehicles",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "Cases",
                columns: table => new
                {
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    VehicleId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Repaired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Line = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Cases", x => x.Number);
                    table.ForeignKey(
                        name: "FK_Cases_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Vehicles_PlateKey",
                table: "Vehicles",
                column: "PlateKey");

            migrationBuilder.CreateIndex(
                name: "IX_Vehicles_VinKey",
                table: "Vehicles",
                column: "VinKey");

            migrationBuilder.CreateIndex(
                name: "IX_Cases_OrderId",
                table: "Cases",
                column: "OrderId",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Cases_VehicleId",
                table: "Cases",
                column: "VehicleId");

            migrationBuilder.Sql("UPDATE Vehicles SET PlateKey = shop_key(Plate), VinKey = shop_key(Vin)");

            // Every three signs in a row are known, so parts of a plate or a name are found by the index. What is overwritten is gone from the file and not only from the answers.
            migrationBuilder.Sql("CREATE VIRTUAL TABLE OrderSearch USING fts5(Words, Keys, tokenize = 'trigram case_sensitive 1', columnsize = 0)");
            migrationBuilder.Sql("INSERT INTO OrderSearch (OrderSearch, rank) VALUES ('secure-delete', 1)");
            migrationBuilder.Sql("CREATE TRIGGER Cases_forget_search AFTER DELETE ON Cases BEGIN DELETE FROM OrderSearch WHERE rowid = old.Number; END;");

            // Cases and search texts of the orders so far are made when the shop is opened (Summaries.FillAsync): bench minutes and folded letters are the program's to work out.
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("DROP TABLE OrderSearch");

            migrationBuilder.DropTable(
                name: "Cases");

            migrationBuilder.DropIndex(
                name: "IX_Vehicles_PlateKey",
                table: "Vehicles");

            migrationBuilder.DropIndex(
                name: "IX_Vehicles_VinKey",
                table: "Vehicles");

            migrationBuilder.DropColumn(
                name: "PlateKey",
                table: "Vehicles");

            migrationBuilder.DropColumn(
                name: "VinKey",
                table: "Vehicles");
        }
    }
}
