using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Incubation.Storage.Records.Migrations
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "alarm_journal",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Occurrence = table.Column<Guid>(type: "TEXT", nullable: false),
                    Incubator = table.Column<string>(type: "TEXT", nullable: false),
                    Probe = table.Column<string>(type: "TEXT", nullable: false),
                    Quantity = table.Column<string>(type: "TEXT", nullable: false),
                    Condition = table.Column<string>(type: "TEXT", nullable: false),
                    Severity = table.Column<string>(type: "TEXT", nullable: false),
                    Event = table.Column<string>(type: "TEXT", nullable: false),
                    FromState = table.Column<string>(type: "TEXT", nullable: false),
                    ToState = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Value = table.Column<double>(type: "REAL", nullable: true),
                    Limit = table.Column<double>(type: "REAL", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: true),
                    Words = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_alarm_journal", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "alarm_state",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Snapshot = table.Column<string>(type: "TEXT", nullable: false),
                    ChangedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_alarm_state", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "answer_link",
                columns: table => new
                {
                    TokenHash = table.Column<string>(type: "TEXT", nullable: false),
                    Occurrence = table.Column<Guid>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_answer_link", x => x.TokenHash);
                });

            migrationBuilder.CreateTable(
                name: "call",
                columns: table => new
                {
                    Id = table.Column<string>(type: "TEXT", nullable: false),
                    Occurrence = table.Column<Guid>(type: "TEXT", nullable: false),
                    Step = table.Column<Guid>(type: "TEXT", nullable: false),
                    Round = table.Column<int>(type: "INTEGER", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Channel = table.Column<string>(type: "TEXT", nullable: false),
                    Address = table.Column<string>(type: "TEXT", nullable: false),
                    Status = table.Column<string>(type: "TEXT", nullable: false),
                    Attempts = table.Column<int>(type: "INTEGER", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    DeliveredAt = table.Column<long>(type: "INTEGER", nullable: true),
                    LastError = table.Column<string>(type: "TEXT", nullable: true),
                    Message = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_call", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "call_step",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Position = table.Column<int>(type: "INTEGER", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Channel = table.Column<string>(type: "TEXT", nullable: false),
                    Address = table.Column<string>(type: "TEXT", nullable: false),
                    Secret = table.Column<string>(type: "TEXT", nullable: true),
                    AfterSeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    RepeatSeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    Enabled = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_call_step", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "incubator",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Position = table.Column<int>(type: "INTEGER", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    RetiredAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_incubator", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "person",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Role = table.Column<string>(type: "TEXT", nullable: false),
                    PasswordHash = table.Column<string>(type: "TEXT", nullable: false),
                    SecurityStamp = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_person", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "probe",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: true),
                    FirstHeardAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_probe", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "rejected_message",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Topic = table.Column<string>(type: "TEXT", nullable: false),
                    Reason = table.Column<string>(type: "TEXT", nullable: false),
                    PayloadStart = table.Column<string>(type: "TEXT", nullable: false),
                    Count = table.Column<long>(type: "INTEGER", nullable: false),
                    FirstAt = table.Column<long>(type: "INTEGER", nullable: false),
                    LastAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_rejected_message", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "setting",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Value = table.Column<string>(type: "TEXT", nullable: false),
                    ChangedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_setting", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "band",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Incubator = table.Column<string>(type: "TEXT", nullable: false),
                    Quantity = table.Column<string>(type: "TEXT", nullable: false),
                    DangerLow = table.Column<double>(type: "REAL", nullable: true),
                    WarningLow = table.Column<double>(type: "REAL", nullable: true),
                    WarningHigh = table.Column<double>(type: "REAL", nullable: true),
                    DangerHigh = table.Column<double>(type: "REAL", nullable: true),
                    Deadband = table.Column<double>(type: "REAL", nullable: false),
                    WarningOnDelaySeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    DangerOnDelaySeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    OffDelaySeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    SilentAfterSeconds = table.Column<int>(type: "INTEGER", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_band", x => x.Id);
                    table.ForeignKey(
                        name: "FK_band_incubator_Incubator",
                        column: x => x.Incubator,
                        principalTable: "incubator",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "placement",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Probe = table.Column<string>(type: "TEXT", nullable: false),
                    Incubator = table.Column<string>(type: "TEXT", nullable: false),
                    Where = table.Column<string>(type: "TEXT", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Until = table.Column<long>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_placement", x => x.Id);
                    table.ForeignKey(
                        name: "FK_placement_incubator_Incubator",
                        column: x => x.Incubator,
                        principalTable: "incubator",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_placement_probe_Probe",
                        column: x => x.Probe,
                        principalTable: "probe",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_alarm_journal_At",
                table: "alarm_journal",
                column: "At");

            migrationBuilder.CreateIndex(
                name: "IX_alarm_journal_Occurrence",
                table: "alarm_journal",
                column: "Occurrence");

            migrationBuilder.CreateIndex(
                name: "IX_band_Incubator_Quantity_From",
                table: "band",
                columns: new[] { "Incubator", "Quantity", "From" });

            migrationBuilder.CreateIndex(
                name: "IX_call_Occurrence",
                table: "call",
                column: "Occurrence");

            migrationBuilder.CreateIndex(
                name: "IX_call_Status",
                table: "call",
                column: "Status");

            migrationBuilder.CreateIndex(
                name: "IX_person_Name",
                table: "person",
                column: "Name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_placement_Incubator",
                table: "placement",
                column: "Incubator");

            migrationBuilder.CreateIndex(
                name: "IX_placement_Probe_From",
                table: "placement",
                columns: new[] { "Probe", "From" });

            migrationBuilder.CreateIndex(
                name: "IX_rejected_message_Topic_Reason",
                table: "rejected_message",
                columns: new[] { "Topic", "Reason" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "alarm_journal");

            migrationBuilder.DropTable(
                name: "alarm_state");

            migrationBuilder.DropTable(
                name: "answer_link");

            migrationBuilder.DropTable(
                name: "band");

            migrationBuilder.DropTable(
                name: "call");

            migrationBuilder.DropTable(
                name: "call_step");

            migrationBuilder.DropTable(
                name: "person");

            migrationBuilder.DropTable(
                name: "placement");

            migrationBuilder.DropTable(
                name: "rejected_message");

            migrationBuilder.DropTable(
                name: "setting");

            migrationBuilder.DropTable(
                name: "incubator");

            migrationBuilder.DropTable(
                name: "probe");
        }
    }
}
