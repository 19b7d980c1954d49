using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Incubation.Storage.Records.Migrations
{
    /// <inheritdoc />
    public partial class Eggs : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "care",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    On = table.Column<string>(type: "TEXT", nullable: false),
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    WaterGrams = table.Column<double>(type: "REAL", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_care", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "clutch",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Label = table.Column<string>(type: "TEXT", nullable: false),
                    Species = table.Column<string>(type: "TEXT", nullable: false),
                    Dam = table.Column<string>(type: "TEXT", nullable: false),
                    Sire = table.Column<string>(type: "TEXT", nullable: true),
                    LayDate = table.Column<string>(type: "TEXT", nullable: false),
                    LayDateSlackDays = table.Column<int>(type: "INTEGER", nullable: false),
                    FoundAt = table.Column<long>(type: "INTEGER", nullable: true),
                    FemaleCelsius = table.Column<double>(type: "REAL", nullable: true),
                    AssumedCelsius = table.Column<double>(type: "REAL", nullable: true),
                    SecondPerson = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false),
                    FinishedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_clutch", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "tint_term",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Word = table.Column<string>(type: "TEXT", nullable: false),
                    Meaning = table.Column<string>(type: "TEXT", nullable: false),
                    Colour = table.Column<string>(type: "TEXT", nullable: false),
                    Position = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_tint_term", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "trait",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Inheritance = table.Column<string>(type: "TEXT", nullable: false),
                    CarrierTints = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_trait", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "tub",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Substrate = table.Column<string>(type: "TEXT", nullable: false),
                    SubstrateGrams = table.Column<double>(type: "REAL", nullable: true),
                    WaterGrams = table.Column<double>(type: "REAL", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_tub", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "egg",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Clutch = table.Column<Guid>(type: "TEXT", nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    X = table.Column<double>(type: "REAL", nullable: false),
                    Y = table.Column<double>(type: "REAL", nullable: false),
                    Clump = table.Column<int>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_egg", x => x.Id);
                    table.ForeignKey(
                        name: "FK_egg_clutch_Clutch",
                        column: x => x.Clutch,
                        principalTable: "clutch",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pairing",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Clutch = table.Column<Guid>(type: "TEXT", nullable: false),
                    Trait = table.Column<string>(type: "TEXT", nullable: false),
                    DamCopies = table.Column<int>(type: "INTEGER", nullable: false),
                    SireCopies = table.Column<int>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pairing", x => x.Id);
                    table.ForeignKey(
                        name: "FK_pairing_clutch_Clutch",
                        column: x => x.Clutch,
                        principalTable: "clutch",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_pairing_trait_Trait",
                        column: x => x.Trait,
                        principalTable: "trait",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "clutch_placement",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Clutch = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tub = table.Column<string>(type: "TEXT", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Until = table.Column<long>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_clutch_placement", x => x.Id);
                    table.ForeignKey(
                        name: "FK_clutch_placement_clutch_Clutch",
                        column: x => x.Clutch,
                        principalTable: "clutch",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_clutch_placement_tub_Tub",
                        column: x => x.Tub,
                        principalTable: "tub",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "tub_placement",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tub = table.Column<string>(type: "TEXT", nullable: false),
                    Incubator = table.Column<string>(type: "TEXT", nullable: false),
                    Shelf = table.Column<string>(type: "TEXT", nullable: true),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Until = table.Column<long>(type: "INTEGER", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_tub_placement", x => x.Id);
                    table.ForeignKey(
                        name: "FK_tub_placement_incubator_Incubator",
                        column: x => x.Incubator,
                        principalTable: "incubator",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_tub_placement_tub_Tub",
                        column: x => x.Tub,
                        principalTable: "tub",
                        principalColumn: "Key",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "candling",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Egg = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tint = table.Column<string>(type: "TEXT", nullable: true),
                    TintWord = table.Column<string>(type: "TEXT", nullable: true),
                    Veins = table.Column<string>(type: "TEXT", nullable: true),
                    MovementSeen = table.Column<bool>(type: "INTEGER", nullable: true),
                    Shell = table.Column<string>(type: "TEXT", nullable: true),
                    LooksLikeSlug = table.Column<string>(type: "TEXT", nullable: true),
                    MassGrams = table.Column<double>(type: "REAL", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    Supersedes = table.Column<Guid>(type: "TEXT", nullable: true),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_candling", x => x.Id);
                    table.ForeignKey(
                        name: "FK_candling_egg_Egg",
                        column: x => x.Egg,
                        principalTable: "egg",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "outcome",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Egg = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Trait = table.Column<string>(type: "TEXT", nullable: true),
                    TraitSeen = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    Supersedes = table.Column<Guid>(type: "TEXT", nullable: true),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_outcome", x => x.Id);
                    table.ForeignKey(
                        name: "FK_outcome_egg_Egg",
                        column: x => x.Egg,
                        principalTable: "egg",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_candling_Egg_At",
                table: "candling",
                columns: new[] { "Egg", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_care_On_Key_At",
                table: "care",
                columns: new[] { "On", "Key", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_clutch_Key",
                table: "clutch",
                column: "Key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_clutch_placement_Clutch_From",
                table: "clutch_placement",
                columns: new[] { "Clutch", "From" });

            migrationBuilder.CreateIndex(
                name: "IX_clutch_placement_Tub",
                table: "clutch_placement",
                column: "Tub");

            migrationBuilder.CreateIndex(
                name: "IX_egg_Clutch_Number",
                table: "egg",
                columns: new[] { "Clutch", "Number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_outcome_Egg",
                table: "outcome",
                column: "Egg");

            migrationBuilder.CreateIndex(
                name: "IX_pairing_Clutch_Trait",
                table: "pairing",
                columns: new[] { "Clutch", "Trait" });

            migrationBuilder.CreateIndex(
                name: "IX_pairing_Trait",
                table: "pairing",
                column: "Trait");

            migrationBuilder.CreateIndex(
                name: "IX_tub_placement_Incubator",
                table: "tub_placement",
                column: "Incubator");

            migrationBuilder.CreateIndex(
                name: "IX_tub_placement_Tub_From",
                table: "tub_placement",
                columns: new[] { "Tub", "From" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "candling");

            migrationBuilder.DropTable(
                name: "care");

            migrationBuilder.DropTable(
                name: "clutch_placement");

            migrationBuilder.DropTable(
                name: "outcome");

            migrationBuilder.DropTable(
                name: "pairing");

            migrationBuilder.DropTable(
                name: "tint_term");

            migrationBuilder.DropTable(
                name: "tub_placement");

            migrationBuilder.DropTable(
                name: "egg");

            migrationBuilder.DropTable(
                name: "trait");

            migrationBuilder.DropTable(
                name: "tub");

            migrationBuilder.DropTable(
                name: "clutch");
        }
    }
}
