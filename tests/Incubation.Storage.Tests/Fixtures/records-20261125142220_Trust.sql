-- The schema with invitations, sessions, passkeys, tokens, probes' secrets, changes and backups, with a row in each table. Never changed: later schemas get a file of their own.
BEGIN TRANSACTION;
CREATE TABLE "__EFMigrationsHistory" (
    "MigrationId" TEXT NOT NULL CONSTRAINT "PK___EFMigrationsHistory" PRIMARY KEY,
    "ProductVersion" TEXT NOT NULL
);
INSERT INTO "__EFMigrationsHistory" VALUES('20261125080729_Initial','10.0.15');
INSERT INTO "__EFMigrationsHistory" VALUES('20261125082751_Eggs','10.0.15');
INSERT INTO "__EFMigrationsHistory" VALUES('20261125110216_Probes','10.0.15');
INSERT INTO "__EFMigrationsHistory" VALUES('20261125142220_Trust','10.0.15');
CREATE TABLE "__EFMigrationsLock" (
    "Id" INTEGER NOT NULL CONSTRAINT "PK___EFMigrationsLock" PRIMARY KEY,
    "Timestamp" TEXT NOT NULL
);
CREATE TABLE "alarm_journal" (
    "Id" INTEGER NOT NULL CONSTRAINT "PK_alarm_journal" PRIMARY KEY AUTOINCREMENT,
    "Occurrence" TEXT NOT NULL,
    "Incubator" TEXT NOT NULL,
    "Probe" TEXT NOT NULL,
    "Quantity" TEXT NOT NULL,
    "Condition" TEXT NOT NULL,
    "Severity" TEXT NOT NULL,
    "Event" TEXT NOT NULL,
    "FromState" TEXT NOT NULL,
    "ToState" TEXT NOT NULL,
    "At" INTEGER NOT NULL,
    "Value" REAL NULL,
    "Limit" REAL NULL,
    "By" TEXT NULL,
    "Words" TEXT NOT NULL
);
INSERT INTO "alarm_journal" VALUES(1,'01930004-0000-7000-8000-000000000004','hazel','','temperature','high','danger','raised','normal','unacknowledged',1795575600000,34.1,33.5,NULL,'Hazel is too warm.');
CREATE TABLE "alarm_state" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_alarm_state" PRIMARY KEY,
    "Snapshot" TEXT NOT NULL,
    "ChangedAt" INTEGER NOT NULL
);
INSERT INTO "alarm_state" VALUES('hazel||temperature|high|danger','{}',1795575600000);
CREATE TABLE "answer_link" (
    "TokenHash" TEXT NOT NULL CONSTRAINT "PK_answer_link" PRIMARY KEY,
    "Occurrence" TEXT NOT NULL,
    "Who" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL
);
INSERT INTO "answer_link" VALUES('0000000000000000000000000000000000000000000000000000000000000000','01930004-0000-7000-8000-000000000004','Mara',1795575600000);
CREATE TABLE "api_token" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_api_token" PRIMARY KEY,
    "Person" TEXT NOT NULL,
    "Name" TEXT NOT NULL,
    "Scope" TEXT NOT NULL,
    "TokenHash" TEXT NOT NULL,
    "Start" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "ExpiresAt" INTEGER NOT NULL,
    "RevokedAt" INTEGER NULL,
    "LastUsedAt" INTEGER NULL,
    CONSTRAINT "FK_api_token_person_Person" FOREIGN KEY ("Person") REFERENCES "person" ("Id") ON DELETE RESTRICT
);
INSERT INTO "api_token" VALUES('01930042-0000-7000-8000-000000000042','01930003-0000-7000-8000-000000000003','shed display','look','ab03','inc_ab',1795575600000,1796180400000,NULL,NULL);
CREATE TABLE "backup" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_backup" PRIMARY KEY,
    "Kind" TEXT NOT NULL,
    "StartedAt" INTEGER NOT NULL,
    "EndedAt" INTEGER NULL,
    "Place" TEXT NOT NULL,
    "Bytes" INTEGER NOT NULL,
    "Ok" INTEGER NULL,
    "Words" TEXT NOT NULL
);
INSERT INTO "backup" VALUES('01930044-0000-7000-8000-000000000044','nightly',1795575600000,1795575601000,'backups/2026-11-25',4096,1,'Kept and read again.');
CREATE TABLE "band" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_band" PRIMARY KEY,
    "Incubator" TEXT NOT NULL,
    "Quantity" TEXT NOT NULL,
    "DangerLow" REAL NULL,
    "WarningLow" REAL NULL,
    "WarningHigh" REAL NULL,
    "DangerHigh" REAL NULL,
    "Deadband" REAL NOT NULL,
    "WarningOnDelaySeconds" INTEGER NOT NULL,
    "DangerOnDelaySeconds" INTEGER NOT NULL,
    "OffDelaySeconds" INTEGER NOT NULL,
    "SilentAfterSeconds" INTEGER NOT NULL,
    "From" INTEGER NOT NULL,
    "By" TEXT NOT NULL,
    CONSTRAINT "FK_band_incubator_Incubator" FOREIGN KEY ("Incubator") REFERENCES "incubator" ("Key") ON DELETE RESTRICT
);
INSERT INTO "band" VALUES('01930002-0000-7000-8000-000000000002','hazel','temperature',29.5,30.5,32.5,33.5,0.2,300,60,120,600,1795575600000,'Ada');
CREATE TABLE "calibration" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_calibration" PRIMARY KEY,
    "Probe" TEXT NOT NULL,
    "Quantity" TEXT NOT NULL,
    "From" INTEGER NOT NULL,
    "Method" TEXT NOT NULL,
    "Measured" REAL NOT NULL,
    "Truth" REAL NOT NULL,
    "Measured2" REAL NULL,
    "Truth2" REAL NULL,
    "NextDue" TEXT NULL,
    "Note" TEXT NULL,
    "Supersedes" TEXT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_calibration_probe_Probe" FOREIGN KEY ("Probe") REFERENCES "probe" ("Key") ON DELETE RESTRICT
);
INSERT INTO "calibration" VALUES('01930030-0000-7000-8000-000000000030','hazel-1','temperature',1795575600000,'ice bath',0.2,0.0,NULL,NULL,'2027-11-25','crushed ice and water',NULL,'Ada',1795575600000);
CREATE TABLE "call" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_call" PRIMARY KEY,
    "Occurrence" TEXT NOT NULL,
    "Step" TEXT NOT NULL,
    "Round" INTEGER NOT NULL,
    "Who" TEXT NOT NULL,
    "Channel" TEXT NOT NULL,
    "Address" TEXT NOT NULL,
    "Status" TEXT NOT NULL,
    "Attempts" INTEGER NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "DeliveredAt" INTEGER NULL,
    "LastError" TEXT NULL,
    "Message" TEXT NOT NULL
);
INSERT INTO "call" VALUES('call-1','01930004-0000-7000-8000-000000000004','01930005-0000-7000-8000-000000000005',0,'Mara','mail','mara@example.org','waiting',0,1795575600000,NULL,NULL,'{}');
CREATE TABLE "call_step" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_call_step" PRIMARY KEY,
    "Position" INTEGER NOT NULL,
    "Who" TEXT NOT NULL,
    "Channel" TEXT NOT NULL,
    "Address" TEXT NOT NULL,
    "Secret" TEXT NULL,
    "AfterSeconds" INTEGER NOT NULL,
    "RepeatSeconds" INTEGER NOT NULL,
    "Enabled" INTEGER NOT NULL
);
INSERT INTO "call_step" VALUES('01930005-0000-7000-8000-000000000005',0,'Mara','mail','mara@example.org',NULL,0,300,1);
CREATE TABLE "candling" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_candling" PRIMARY KEY,
    "Egg" TEXT NOT NULL,
    "Tint" TEXT NULL,
    "TintWord" TEXT NULL,
    "Veins" TEXT NULL,
    "MovementSeen" INTEGER NULL,
    "Shell" TEXT NULL,
    "LooksLikeSlug" TEXT NULL,
    "MassGrams" REAL NULL,
    "Note" TEXT NULL,
    "Supersedes" TEXT NULL,
    "At" INTEGER NOT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_candling_egg_Egg" FOREIGN KEY ("Egg") REFERENCES "egg" ("Id") ON DELETE RESTRICT
);
INSERT INTO "candling" VALUES('01930014-0000-7000-8000-000000000014','01930011-0000-7000-8000-000000000011','greenish','greenish','full net',1,'dented,window','no',82.5,NULL,NULL,1795575600000,'Ada',1795575600000);
CREATE TABLE "care" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_care" PRIMARY KEY,
    "On" TEXT NOT NULL,
    "Key" TEXT NOT NULL,
    "Kind" TEXT NOT NULL,
    "WaterGrams" REAL NULL,
    "Note" TEXT NULL,
    "At" INTEGER NOT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL
);
INSERT INTO "care" VALUES('01930016-0000-7000-8000-000000000016','tub','tub-2','water',40.0,NULL,1795575600000,'Ada',1795575600000);
CREATE TABLE "change" (
    "Id" INTEGER NOT NULL CONSTRAINT "PK_change" PRIMARY KEY AUTOINCREMENT,
    "At" INTEGER NOT NULL,
    "By" TEXT NOT NULL,
    "Through" TEXT NULL,
    "What" TEXT NOT NULL,
    "Subject" TEXT NOT NULL
);
INSERT INTO "change" VALUES(1,1795575600000,'Ada',NULL,'addIncubator','/api/incubators');
CREATE TABLE "clutch" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_clutch" PRIMARY KEY,
    "Key" TEXT NOT NULL,
    "Label" TEXT NOT NULL,
    "Species" TEXT NOT NULL,
    "Dam" TEXT NOT NULL,
    "Sire" TEXT NULL,
    "LayDate" TEXT NOT NULL,
    "LayDateSlackDays" INTEGER NOT NULL,
    "FoundAt" INTEGER NULL,
    "FemaleCelsius" REAL NULL,
    "AssumedCelsius" REAL NULL,
    "SecondPerson" TEXT NULL,
    "Note" TEXT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    "FinishedAt" INTEGER NULL
);
INSERT INTO "clutch" VALUES('01930010-0000-7000-8000-000000000010','c-01','C-01','python-regius','Juno','Otto','2026-11-20',1,1795575600000,31.2,NULL,NULL,'<b>first</b> 🥚','Ada',1795575600000,NULL);
CREATE TABLE "clutch_placement" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_clutch_placement" PRIMARY KEY,
    "Clutch" TEXT NOT NULL,
    "Tub" TEXT NOT NULL,
    "From" INTEGER NOT NULL,
    "Until" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_clutch_placement_clutch_Clutch" FOREIGN KEY ("Clutch") REFERENCES "clutch" ("Id") ON DELETE RESTRICT,
    CONSTRAINT "FK_clutch_placement_tub_Tub" FOREIGN KEY ("Tub") REFERENCES "tub" ("Key") ON DELETE RESTRICT
);
INSERT INTO "clutch_placement" VALUES('01930012-0000-7000-8000-000000000012','01930010-0000-7000-8000-000000000010','tub-2',1795575600000,NULL,'Ada',1795575600000);
CREATE TABLE "egg" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_egg" PRIMARY KEY,
    "Clutch" TEXT NOT NULL,
    "Number" INTEGER NOT NULL,
    "X" REAL NOT NULL,
    "Y" REAL NOT NULL,
    "Clump" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_egg_clutch_Clutch" FOREIGN KEY ("Clutch") REFERENCES "clutch" ("Id") ON DELETE RESTRICT
);
INSERT INTO "egg" VALUES('01930011-0000-7000-8000-000000000011','01930010-0000-7000-8000-000000000010',1,0.4,0.6,2,'Ada',1795575600000);
CREATE TABLE "import" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_import" PRIMARY KEY,
    "FileName" TEXT NOT NULL,
    "Digest" TEXT NOT NULL,
    "Bytes" INTEGER NOT NULL,
    "DoneBytes" INTEGER NOT NULL,
    "DoneLines" INTEGER NOT NULL,
    "Taken" INTEGER NOT NULL,
    "Refused" INTEGER NOT NULL,
    "State" TEXT NOT NULL,
    "Columns" TEXT NOT NULL,
    "Report" TEXT NOT NULL,
    "By" TEXT NOT NULL,
    "StartedAt" INTEGER NOT NULL,
    "EndedAt" INTEGER NULL
);
INSERT INTO "import" VALUES('01930032-0000-7000-8000-000000000032','old.csv','00',100,50,5,5,0,'stopped','{}','[]','Ada',1795575600000,NULL);
CREATE TABLE "incubator" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_incubator" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Position" INTEGER NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "RetiredAt" INTEGER NULL
);
INSERT INTO "incubator" VALUES('hazel','Hazel',0,1795575600000,NULL);
CREATE TABLE "invite" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_invite" PRIMARY KEY,
    "TokenHash" TEXT NOT NULL,
    "Role" TEXT NOT NULL,
    "MeantFor" TEXT NOT NULL,
    "SitsUntil" INTEGER NULL,
    "ExpiresAt" INTEGER NOT NULL,
    "By" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "UsedAt" INTEGER NULL,
    "UsedBy" TEXT NULL,
    "RevokedAt" INTEGER NULL
);
INSERT INTO "invite" VALUES('01930040-0000-7000-8000-000000000040','ab01','sitter','Wren',1796180400000,1796180400000,'Ada',1795575600000,NULL,NULL,NULL);
CREATE TABLE "outcome" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_outcome" PRIMARY KEY,
    "Egg" TEXT NOT NULL,
    "Kind" TEXT NOT NULL,
    "At" INTEGER NOT NULL,
    "Trait" TEXT NULL,
    "TraitSeen" TEXT NULL,
    "Note" TEXT NULL,
    "Supersedes" TEXT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_outcome_egg_Egg" FOREIGN KEY ("Egg") REFERENCES "egg" ("Id") ON DELETE RESTRICT
);
INSERT INTO "outcome" VALUES('01930015-0000-7000-8000-000000000015','01930011-0000-7000-8000-000000000011','out',1795575600000,'ember','carries',NULL,NULL,'Ada',1795575600000);
CREATE TABLE "pairing" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_pairing" PRIMARY KEY,
    "Clutch" TEXT NOT NULL,
    "Trait" TEXT NOT NULL,
    "DamCopies" INTEGER NOT NULL,
    "SireCopies" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_pairing_clutch_Clutch" FOREIGN KEY ("Clutch") REFERENCES "clutch" ("Id") ON DELETE RESTRICT,
    CONSTRAINT "FK_pairing_trait_Trait" FOREIGN KEY ("Trait") REFERENCES "trait" ("Key") ON DELETE RESTRICT
);
INSERT INTO "pairing" VALUES('01930017-0000-7000-8000-000000000017','01930010-0000-7000-8000-000000000010','ember',1,NULL,'Ada',1795575600000);
CREATE TABLE "passkey" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_passkey" PRIMARY KEY,
    "Person" TEXT NOT NULL,
    "PublicKey" BLOB NOT NULL,
    "SignCount" INTEGER NOT NULL,
    "Host" TEXT NOT NULL,
    "Name" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "LastUsedAt" INTEGER NULL,
    CONSTRAINT "FK_passkey_person_Person" FOREIGN KEY ("Person") REFERENCES "person" ("Id") ON DELETE RESTRICT
);
INSERT INTO "passkey" VALUES('AAEC','01930003-0000-7000-8000-000000000003',X'00010203',7,'incubation.example','phone',1795575600000,NULL);
CREATE TABLE "person" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_person" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Role" TEXT NOT NULL,
    "PasswordHash" TEXT NOT NULL,
    "SecurityStamp" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL
, "LeftAt" INTEGER NULL, "SitsUntil" INTEGER NULL);
INSERT INTO "person" VALUES('01930003-0000-7000-8000-000000000003','Ada','owner','not-a-hash','stamp',1795575600000,NULL,NULL);
CREATE TABLE "placement" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_placement" PRIMARY KEY,
    "Probe" TEXT NOT NULL,
    "Incubator" TEXT NOT NULL,
    "Where" TEXT NOT NULL,
    "From" INTEGER NOT NULL,
    "Until" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL, "Tub" TEXT NULL,
    CONSTRAINT "FK_placement_incubator_Incubator" FOREIGN KEY ("Incubator") REFERENCES "incubator" ("Key") ON DELETE RESTRICT,
    CONSTRAINT "FK_placement_probe_Probe" FOREIGN KEY ("Probe") REFERENCES "probe" ("Key") ON DELETE RESTRICT
);
INSERT INTO "placement" VALUES('01930001-0000-7000-8000-000000000001','hazel-air','hazel','air, upper shelf',1795575600000,NULL,'Ada',1795575600000,NULL);
CREATE TABLE "probe" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_probe" PRIMARY KEY,
    "Name" TEXT NULL,
    "FirstHeardAt" INTEGER NOT NULL
);
INSERT INTO "probe" VALUES('hazel-air','Hazel air',1795575600000);
CREATE TABLE "probe_credential" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_probe_credential" PRIMARY KEY,
    "Probe" TEXT NOT NULL,
    "SecretHash" TEXT NOT NULL,
    "By" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "RevokedAt" INTEGER NULL
);
INSERT INTO "probe_credential" VALUES('01930043-0000-7000-8000-000000000043','hazel-1','ab04','Ada',1795575600000,NULL);
CREATE TABLE "probe_look" (
    "Person" TEXT NOT NULL,
    "Probe" TEXT NOT NULL,
    "At" INTEGER NOT NULL,
    CONSTRAINT "PK_probe_look" PRIMARY KEY ("Person", "Probe")
);
INSERT INTO "probe_look" VALUES('Ada','hazel-1',1795575600000);
CREATE TABLE "rejected_message" (
    "Id" INTEGER NOT NULL CONSTRAINT "PK_rejected_message" PRIMARY KEY AUTOINCREMENT,
    "Topic" TEXT NOT NULL,
    "Reason" TEXT NOT NULL,
    "PayloadStart" TEXT NOT NULL,
    "Count" INTEGER NOT NULL,
    "FirstAt" INTEGER NOT NULL,
    "LastAt" INTEGER NOT NULL
);
INSERT INTO "rejected_message" VALUES(1,'incubation/x','too few parts','31.4',3,1795575600000,1795575600000);
CREATE TABLE "run_in" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_run_in" PRIMARY KEY,
    "Incubator" TEXT NOT NULL,
    "From" INTEGER NOT NULL,
    "EndedAt" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_run_in_incubator_Incubator" FOREIGN KEY ("Incubator") REFERENCES "incubator" ("Key") ON DELETE RESTRICT
);
INSERT INTO "run_in" VALUES('01930031-0000-7000-8000-000000000031','hazel',1795575600000,NULL,'Ada',1795575600000);
CREATE TABLE "session" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_session" PRIMARY KEY,
    "Person" TEXT NOT NULL,
    "SecretHash" TEXT NOT NULL,
    "Device" TEXT NOT NULL,
    "Method" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "LastSeenAt" INTEGER NOT NULL,
    "EndedAt" INTEGER NULL,
    CONSTRAINT "FK_session_person_Person" FOREIGN KEY ("Person") REFERENCES "person" ("Id") ON DELETE RESTRICT
);
INSERT INTO "session" VALUES('01930041-0000-7000-8000-000000000041','01930003-0000-7000-8000-000000000003','ab02','phone','password',1795575600000,1795575600000,NULL);
CREATE TABLE "setting" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_setting" PRIMARY KEY,
    "Value" TEXT NOT NULL,
    "ChangedAt" INTEGER NOT NULL,
    "By" TEXT NOT NULL
);
INSERT INTO "setting" VALUES('scale','Cel',1795575600000,'Ada');
CREATE TABLE "tint_term" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_tint_term" PRIMARY KEY,
    "Word" TEXT NOT NULL,
    "Meaning" TEXT NOT NULL,
    "Colour" TEXT NOT NULL,
    "Position" INTEGER NOT NULL
);
INSERT INTO "tint_term" VALUES('greenish','greenish','A green cast.','#a3b86c',3);
CREATE TABLE "trait" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_trait" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Inheritance" TEXT NOT NULL,
    "CarrierTints" TEXT NOT NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL
);
INSERT INTO "trait" VALUES('ember','Ember','incomplete dominant','greenish','Ada',1795575600000);
CREATE TABLE "tub" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_tub" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Substrate" TEXT NOT NULL,
    "SubstrateGrams" REAL NULL,
    "WaterGrams" REAL NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL
);
INSERT INTO "tub" VALUES('tub-2','Tub 2','vermiculite',400.0,400.0,'Ada',1795575600000);
CREATE TABLE "tub_placement" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_tub_placement" PRIMARY KEY,
    "Tub" TEXT NOT NULL,
    "Incubator" TEXT NOT NULL,
    "Shelf" TEXT NULL,
    "From" INTEGER NOT NULL,
    "Until" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_tub_placement_incubator_Incubator" FOREIGN KEY ("Incubator") REFERENCES "incubator" ("Key") ON DELETE RESTRICT,
    CONSTRAINT "FK_tub_placement_tub_Tub" FOREIGN KEY ("Tub") REFERENCES "tub" ("Key") ON DELETE RESTRICT
);
INSERT INTO "tub_placement" VALUES('01930013-0000-7000-8000-000000000013','tub-2','hazel','upper',1795575600000,NULL,'Ada',1795575600000);
CREATE INDEX "IX_alarm_journal_At" ON "alarm_journal" ("At");
CREATE INDEX "IX_alarm_journal_Occurrence" ON "alarm_journal" ("Occurrence");
CREATE INDEX "IX_api_token_Person" ON "api_token" ("Person");
CREATE UNIQUE INDEX "IX_api_token_TokenHash" ON "api_token" ("TokenHash");
CREATE INDEX "IX_backup_StartedAt" ON "backup" ("StartedAt");
CREATE INDEX "IX_band_Incubator_Quantity_From" ON "band" ("Incubator", "Quantity", "From");
CREATE INDEX "IX_calibration_Probe_Quantity_From" ON "calibration" ("Probe", "Quantity", "From");
CREATE INDEX "IX_call_Occurrence" ON "call" ("Occurrence");
CREATE INDEX "IX_call_Status" ON "call" ("Status");
CREATE INDEX "IX_candling_Egg_At" ON "candling" ("Egg", "At");
CREATE INDEX "IX_care_On_Key_At" ON "care" ("On", "Key", "At");
CREATE INDEX "IX_change_At" ON "change" ("At");
CREATE UNIQUE INDEX "IX_clutch_Key" ON "clutch" ("Key");
CREATE INDEX "IX_clutch_placement_Clutch_From" ON "clutch_placement" ("Clutch", "From");
CREATE INDEX "IX_clutch_placement_Tub" ON "clutch_placement" ("Tub");
CREATE UNIQUE INDEX "IX_egg_Clutch_Number" ON "egg" ("Clutch", "Number");
CREATE UNIQUE INDEX "IX_invite_TokenHash" ON "invite" ("TokenHash");
CREATE INDEX "IX_outcome_Egg" ON "outcome" ("Egg");
CREATE INDEX "IX_pairing_Clutch_Trait" ON "pairing" ("Clutch", "Trait");
CREATE INDEX "IX_pairing_Trait" ON "pairing" ("Trait");
CREATE INDEX "IX_passkey_Person" ON "passkey" ("Person");
CREATE UNIQUE INDEX "IX_person_Name" ON "person" ("Name");
CREATE INDEX "IX_placement_Incubator" ON "placement" ("Incubator");
CREATE INDEX "IX_placement_Probe_From" ON "placement" ("Probe", "From");
CREATE INDEX "IX_probe_credential_Probe" ON "probe_credential" ("Probe");
CREATE UNIQUE INDEX "IX_rejected_message_Topic_Reason" ON "rejected_message" ("Topic", "Reason");
CREATE INDEX "IX_run_in_Incubator" ON "run_in" ("Incubator");
CREATE INDEX "IX_session_Person" ON "session" ("Person");
CREATE INDEX "IX_tub_placement_Incubator" ON "tub_placement" ("Incubator");
CREATE INDEX "IX_tub_placement_Tub_From" ON "tub_placement" ("Tub", "From");
COMMIT;
