using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Incubation.Storage.Records.Migrations
{
    /// <inheritdoc />
    public partial class Probes : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Tub",
                table: "placement",
                type: "TEXT",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "calibration",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Probe = table.Column<string>(type: "TEXT", nullable: false),
                    Quantity = table.Column<string>(type: "TEXT", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Method = table.Column<string>(type: "TEXT", nullable: false),
                    Measured = table.Column<double>(type: "REAL", nullable: false),
                    Truth = table.Column<double>(type: "REAL", nullable: false),
                    Measured2 = table.Column<double>(type: "REAL", nullable: true),
                    Truth2 = table.Column<double>(type: "REAL", nullable: true),
                    NextDue = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    Supersedes = table.Column<Guid>(type: "TEXT", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_calibration", x => x.Id);
                    table.ForeignKey(
                        name: "FK_calibration_probe_Probe",
                        column: x => x.Probe,
                        principalTable: "probe",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "import",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    FileName = table.Column<string>(type: "TEXT", nullable: false),
                    Digest = table.Column<string>(type: "TEXT", nullable: false),
                    Bytes = table.Column<long>(type: "INTEGER", nullable: false),
                    DoneBytes = table.Column<long>(type: "INTEGER", nullable: false),
                    DoneLines = table.Column<long>(type: "INTEGER", nullable: false),
                    Taken = table.Column<long>(type: "INTEGER", nullable: false),
                    Refused = table.Column<long>(type: "INTEGER", nullable: false),
                    State = table.Column<string>(type: "TEXT", nullable: false),
                    Columns = table.Column<string>(type: "TEXT", nullable: false),
                    Report = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    StartedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_import", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "probe_look",
                columns: table => new
                {
                    Person = table.Column<string>(type: "TEXT", nullable: false),
                    Probe = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_probe_look", x => new { x.Person, x.Probe });
                });

            migrationBuilder.CreateTable(
                name: "run_in",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Incubator = table.Column<string>(type: "TEXT", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_run_in", x => x.Id);
                    table.ForeignKey(
                        name: "FK_run_in_incubator_Incubator",
                        column: x => x.Incubator,
                        principalTable: "incubator",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_calibration_Probe_Quantity_From",
                table: "calibration",
                columns: new[] { "Probe", "Quantity", "From" });

            migrationBuilder.CreateIndex(
                name: "IX_run_in_Incubator",
                table: "run_in",
                column: "Incubator");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "calibration");

            migrationBuilder.DropTable(
                name: "import");

            migrationBuilder.DropTable(
                name: "probe_look");

            migrationBuilder.DropTable(
                name: "run_in");

            migrationBuilder.DropColumn(
                name: "Tub",
                table: "placement");
        }
    }
}
