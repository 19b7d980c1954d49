-- The first schema of the records, with a row in each table. Never changed: later schemas get a file of their own.
BEGIN TRANSACTION;
CREATE TABLE "__EFMigrationsHistory" (
    "MigrationId" TEXT NOT NULL CONSTRAINT "PK___EFMigrationsHistory" PRIMARY KEY,
    "ProductVersion" TEXT NOT NULL
);
INSERT INTO "__EFMigrationsHistory" VALUES('20261125080729_Initial','10.0.15');
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
CREATE TABLE "incubator" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_incubator" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Position" INTEGER NOT NULL,
    "CreatedAt" INTEGER NOT NULL,
    "RetiredAt" INTEGER NULL
);
INSERT INTO "incubator" VALUES('hazel','Hazel',0,1795575600000,NULL);
CREATE TABLE "person" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_person" PRIMARY KEY,
    "Name" TEXT NOT NULL,
    "Role" TEXT NOT NULL,
    "PasswordHash" TEXT NOT NULL,
    "SecurityStamp" TEXT NOT NULL,
    "CreatedAt" INTEGER NOT NULL
);
INSERT INTO "person" VALUES('01930003-0000-7000-8000-000000000003','Ada','owner','not-a-hash','stamp',1795575600000);
CREATE TABLE "placement" (
    "Id" TEXT NOT NULL CONSTRAINT "PK_placement" PRIMARY KEY,
    "Probe" TEXT NOT NULL,
    "Incubator" TEXT NOT NULL,
    "Where" TEXT NOT NULL,
    "From" INTEGER NOT NULL,
    "Until" INTEGER NULL,
    "By" TEXT NOT NULL,
    "EnteredAt" INTEGER NOT NULL,
    CONSTRAINT "FK_placement_incubator_Incubator" FOREIGN KEY ("Incubator") REFERENCES "incubator" ("Key") ON DELETE RESTRICT,
    CONSTRAINT "FK_placement_probe_Probe" FOREIGN KEY ("Probe") REFERENCES "probe" ("Key") ON DELETE RESTRICT
);
INSERT INTO "placement" VALUES('01930001-0000-7000-8000-000000000001','hazel-air','hazel','air, upper shelf',1795575600000,NULL,'Ada',1795575600000);
CREATE TABLE "probe" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_probe" PRIMARY KEY,
    "Name" TEXT NULL,
    "FirstHeardAt" INTEGER NOT NULL
);
INSERT INTO "probe" VALUES('hazel-air','Hazel air',1795575600000);
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
CREATE TABLE "setting" (
    "Key" TEXT NOT NULL CONSTRAINT "PK_setting" PRIMARY KEY,
    "Value" TEXT NOT NULL,
    "ChangedAt" INTEGER NOT NULL,
    "By" TEXT NOT NULL
);
INSERT INTO "setting" VALUES('scale','Cel',1795575600000,'Ada');
CREATE INDEX "IX_alarm_journal_At" ON "alarm_journal" ("At");
CREATE INDEX "IX_alarm_journal_Occurrence" ON "alarm_journal" ("Occurrence");
CREATE INDEX "IX_band_Incubator_Quantity_From" ON "band" ("Incubator", "Quantity", "From");
CREATE INDEX "IX_call_Occurrence" ON "call" ("Occurrence");
CREATE INDEX "IX_call_Status" ON "call" ("Status");
CREATE UNIQUE INDEX "IX_person_Name" ON "person" ("Name");
CREATE INDEX "IX_placement_Incubator" ON "placement" ("Incubator");
CREATE INDEX "IX_placement_Probe_From" ON "placement" ("Probe", "From");
CREATE UNIQUE INDEX "IX_rejected_message_Topic_Reason" ON "rejected_message" ("Topic", "Reason");
COMMIT;
