using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class KeepPhotos : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Photos",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Test = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceKind = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceFirst = table.Column<int>(type: "INTEGER", nullable: false),
                    PlaceSecond = table.Column<int>(type: "INTEGER", nullable: false),
                    Stage = table.Column<string>(type: "TEXT", nullable: false),
                    Width = table.Column<int>(type: "INTEGER", nullable: false),
                    Height = table.Column<int>(type: "INTEGER", nullable: false),
                    TakenAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    Caption = table.Column<string>(type: "TEXT", nullable: false),
                    MarksJson = table.Column<string>(type: "TEXT", nullable: false),
                    InReport = table.Column<bool>(type: "INTEGER", nullable: false),
                    RemovedAt = table.Column<DateTime>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Photos", x => x.Id);
                    table.CheckConstraint("CK_Photos_MarksJson", "json_valid(MarksJson)");
                    table.CheckConstraint("CK_Photos_Place", "(PlaceKind = 'Engine' AND PlaceFirst = 0 AND PlaceSecond = 0) OR (PlaceKind IN ('Bank', 'Cylinder') AND PlaceFirst >= 1 AND PlaceSecond = 0) OR (PlaceKind = 'Pair' AND PlaceFirst >= 1 AND PlaceSecond > PlaceFirst)");
                    table.CheckConstraint("CK_Photos_Size", "typeof(Width) = 'integer' AND typeof(Height) = 'integer' AND Width >= 1 AND Height >= 1");
                    table.ForeignKey(
                        name: "FK_Photos_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Photos_OrderId_TakenAt",
                table: "Photos",
                columns: new[] { "OrderId", "TakenAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Photos");
        }
    }
}
