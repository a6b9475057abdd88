using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopDiag.Storage.Migrations
{
    /// <inheritdoc />
    public partial class FirstShop : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Customers",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Phone = table.Column<string>(type: "TEXT", nullable: false),
                    Email = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Customers", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Settings",
                columns: table => new
                {
                    Id = table.Column<int>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Address = table.Column<string>(type: "TEXT", nullable: false),
                    Phone = table.Column<string>(type: "TEXT", nullable: false),
                    Currency = table.Column<string>(type: "TEXT", nullable: false),
                    LabourPerHourMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    UnitSystem = table.Column<string>(type: "TEXT", nullable: false),
                    UnitsJson = table.Column<string>(type: "TEXT", nullable: false),
                    Paper = table.Column<string>(type: "TEXT", nullable: false),
                    AltitudeMetres = table.Column<double>(type: "REAL", nullable: false),
                    ToolsJson = table.Column<string>(type: "TEXT", nullable: false),
                    IsDemo = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Settings", x => x.Id);
                    table.CheckConstraint("CK_Settings_Currency", "length(Currency) = 3");
                    table.CheckConstraint("CK_Settings_Json", "json_valid(UnitsJson) AND json_valid(ToolsJson)");
                    table.CheckConstraint("CK_Settings_LabourPerHourMinor", "typeof(LabourPerHourMinor) = 'integer' AND LabourPerHourMinor >= 0");
                    table.CheckConstraint("CK_Settings_OnlyOne", "Id = 1");
                    table.CheckConstraint("CK_Settings_Paper", "Paper IN ('letter', 'a4')");
                    table.CheckConstraint("CK_Settings_UnitSystem", "UnitSystem IN ('metric', 'us')");
                });

            migrationBuilder.CreateTable(
                name: "Vehicles",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    CustomerId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Plate = table.Column<string>(type: "TEXT", nullable: false),
                    Vin = table.Column<string>(type: "TEXT", nullable: false),
                    Description = table.Column<string>(type: "TEXT", nullable: false),
                    Year = table.Column<int>(type: "INTEGER", nullable: true),
                    EngineJson = table.Column<string>(type: "TEXT", nullable: true),
                    EngineTitle = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Vehicles", x => x.Id);
                    table.CheckConstraint("CK_Vehicles_EngineJson", "EngineJson IS NULL OR json_valid(EngineJson)");
                    table.CheckConstraint("CK_Vehicles_Year", "Year IS NULL OR (typeof(Year) = 'integer' AND Year BETWEEN 1950 AND 2100)");
                    table.ForeignKey(
                        name: "FK_Vehicles_Customers_CustomerId",
                        column: x => x.CustomerId,
                        principalTable: "Customers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Orders",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Stage = table.Column<string>(type: "TEXT", nullable: false),
                    CustomerId = table.Column<Guid>(type: "TEXT", nullable: false),
                    VehicleId = table.Column<Guid>(type: "TEXT", nullable: false),
                    ConcernText = table.Column<string>(type: "TEXT", nullable: false),
                    ConcernCodes = table.Column<string>(type: "TEXT", nullable: false),
                    ConcernLamp = table.Column<string>(type: "TEXT", nullable: false),
                    ConcernWhen = table.Column<string>(type: "TEXT", nullable: false),
                    Odometer = table.Column<int>(type: "INTEGER", nullable: true),
                    OdometerUnit = table.Column<string>(type: "TEXT", nullable: false),
                    PromisedAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    Technician = table.Column<string>(type: "TEXT", nullable: false),
                    AuthorisedMinutes = table.Column<int>(type: "INTEGER", nullable: false),
                    DiagnosisPriceMinor = table.Column<long>(type: "INTEGER", nullable: true),
                    ComebackOf = table.Column<Guid>(type: "TEXT", nullable: true),
                    CreatedAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Orders", x => x.Id);
                    table.CheckConstraint("CK_Orders_AuthorisedMinutes", "typeof(AuthorisedMinutes) = 'integer' AND AuthorisedMinutes BETWEEN 0 AND 10000");
                    table.CheckConstraint("CK_Orders_DiagnosisPriceMinor", "DiagnosisPriceMinor IS NULL OR (typeof(DiagnosisPriceMinor) = 'integer' AND DiagnosisPriceMinor >= 0)");
                    table.CheckConstraint("CK_Orders_Number", "typeof(Number) = 'integer' AND Number >= 1001");
                    table.CheckConstraint("CK_Orders_Odometer", "Odometer IS NULL OR (typeof(Odometer) = 'integer' AND Odometer BETWEEN 0 AND 9999999)");
                    table.CheckConstraint("CK_Orders_OdometerUnit", "OdometerUnit IN ('km', 'mi')");
                    table.ForeignKey(
                        name: "FK_Orders_Customers_CustomerId",
                        column: x => x.CustomerId,
                        principalTable: "Customers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Orders_Orders_ComebackOf",
                        column: x => x.ComebackOf,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Orders_Vehicles_VehicleId",
                        column: x => x.VehicleId,
                        principalTable: "Vehicles",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "AppliedCommands",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    What = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AppliedCommands", x => x.Id);
                    table.ForeignKey(
                        name: "FK_AppliedCommands_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Findings",
                columns: table => new
                {
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    FindingJson = table.Column<string>(type: "TEXT", nullable: true),
                    Causes = table.Column<string>(type: "TEXT", nullable: false),
                    SavedAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Findings", x => new { x.OrderId, x.Sequence });
                    table.CheckConstraint("CK_Findings_FindingJson", "FindingJson IS NULL OR json_valid(FindingJson)");
                    table.ForeignKey(
                        name: "FK_Findings_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Readings",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    Test = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceKind = table.Column<string>(type: "TEXT", nullable: false),
                    PlaceFirst = table.Column<int>(type: "INTEGER", nullable: false),
                    PlaceSecond = table.Column<int>(type: "INTEGER", nullable: false),
                    ValueJson = table.Column<string>(type: "TEXT", nullable: false),
                    Stage = table.Column<string>(type: "TEXT", nullable: false),
                    Warm = table.Column<bool>(type: "INTEGER", nullable: true),
                    TakenAt = table.Column<DateTimeOffset>(type: "TEXT", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    SupersedesId = table.Column<Guid>(type: "TEXT", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    SavedAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Readings", x => x.Id);
                    table.CheckConstraint("CK_Readings_Place", "(PlaceKind = 'Engine' AND PlaceFirst = 0 AND PlaceSecond = 0) OR (PlaceKind IN ('Bank', 'Cylinder') AND PlaceFirst >= 1 AND PlaceSecond = 0) OR (PlaceKind = 'Pair' AND PlaceFirst >= 1 AND PlaceSecond > PlaceFirst)");
                    table.CheckConstraint("CK_Readings_Sequence", "typeof(Sequence) = 'integer' AND Sequence >= 1");
                    table.CheckConstraint("CK_Readings_ValueJson", "json_valid(ValueJson)");
                    table.CheckConstraint("CK_Readings_Withdrawn", "NOT Withdrawn OR SupersedesId IS NOT NULL");
                    table.ForeignKey(
                        name: "FK_Readings_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Readings_Readings_SupersedesId",
                        column: x => x.SupersedesId,
                        principalTable: "Readings",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "StageMoves",
                columns: table => new
                {
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    Stage = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<DateTime>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    Reason = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_StageMoves", x => new { x.OrderId, x.Sequence });
                    table.ForeignKey(
                        name: "FK_StageMoves_Orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "Orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_AppliedCommands_OrderId",
                table: "AppliedCommands",
                column: "OrderId");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_ComebackOf",
                table: "Orders",
                column: "ComebackOf");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_CustomerId",
                table: "Orders",
                column: "CustomerId");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_Number",
                table: "Orders",
                column: "Number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Orders_Stage",
                table: "Orders",
                column: "Stage");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_VehicleId",
                table: "Orders",
                column: "VehicleId");

            migrationBuilder.CreateIndex(
                name: "IX_Readings_OrderId_Sequence",
                table: "Readings",
                columns: new[] { "OrderId", "Sequence" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Readings_SupersedesId",
                table: "Readings",
                column: "SupersedesId");

            migrationBuilder.CreateIndex(
                name: "IX_Vehicles_CustomerId",
                table: "Vehicles",
                column: "CustomerId");

            AppendOnly.Guard(migrationBuilder, "Readings");
            AppendOnly.Guard(migrationBuilder, "Findings");
            AppendOnly.Guard(migrationBuilder, "StageMoves");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "AppliedCommands");

            migrationBuilder.DropTable(
                name: "Findings");

            migrationBuilder.DropTable(
                name: "Readings");

            migrationBuilder.DropTable(
                name: "Settings");

            migrationBuilder.DropTable(
                name: "StageMoves");

            migrationBuilder.DropTable(
                name: "Orders");

            migrationBuilder.DropTable(
                name: "Vehicles");

            migrationBuilder.DropTable(
                name: "Customers");
        }
    }
}
