using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class KeepObstacles : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Obstacles",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Test = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceKind = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceFirst = table.Column<int>(type: "INTEGER", nullable: false),
                    PlaceSecond = table.Column<int>(type: "INTEGER", nullable: false),
                    Why = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    SaidAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EndedBy = table.Column<string>(type: "TEXT", nullable: true),
                    EndedAt = table.Column<DateTime>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Obstacles", x => x.Id);
                    table.CheckConstraint("CK_Obstacles_End", "(EndedAt IS NULL) = (EndedBy IS NULL)");
                    table.CheckConstraint("CK_Obstacles_Place", "(PlaceKind = 'Engine' AND PlaceFirst = 0 AND PlaceSecond = 0) OR (PlaceKind IN ('Bank', 'Cylinder') AND PlaceFirst >= 1 AND PlaceSecond = 0) OR (PlaceKind = 'Pair' AND PlaceFirst >= 1 AND PlaceSecond > PlaceFirst)");
                    table.ForeignKey(
                        name: "FK_Obstacles_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Obstacles_OrderId_SaidAt",
                table: "Obstacles",
                columns: new[] { "OrderId", "SaidAt" });

            AppendOnly.Guard(migrationBuilder, "Obstacles");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Obstacles");
        }
    }
}
