-- CreateTable
CREATE TABLE "Inspection" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "applianceId" TEXT NOT NULL,
    "formId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "byUserId" TEXT,
    "signedName" TEXT NOT NULL,
    "standard" TEXT NOT NULL,
    "environment" TEXT NOT NULL,
    "protectionClass" TEXT,
    "cordMetres" REAL,
    "checklist" JSONB NOT NULL,
    "measurements" JSONB NOT NULL,
    "instruments" JSONB NOT NULL,
    "competence" JSONB NOT NULL,
    "result" TEXT NOT NULL,
    "reasons" JSONB NOT NULL,
    "notes" TEXT,
    "nextDueAt" DATETIME,
    "nextDueWhy" TEXT NOT NULL,
    "tookOutOfUse" BOOLEAN NOT NULL DEFAULT false,
    "findingId" TEXT,
    "correctsId" TEXT,
    "correctionWhy" TEXT
);

-- CreateTable
CREATE TABLE "InspectionDue" (
    "applianceId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "lastInspectionId" TEXT NOT NULL,
    "lastAt" DATETIME NOT NULL,
    "lastResult" TEXT NOT NULL,
    "dueAt" DATETIME,
    CONSTRAINT "InspectionDue_applianceId_fkey" FOREIGN KEY ("applianceId") REFERENCES "Appliance" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "InspectionPolicy" (
    "siteId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "standard" TEXT NOT NULL,
    "environment" TEXT NOT NULL,
    "months" INTEGER,
    "firstDays" INTEGER NOT NULL,
    "changedAt" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "Competence" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "issuedBy" TEXT NOT NULL,
    "validUntil" DATETIME,
    "createdAt" DATETIME NOT NULL,
    "endedAt" DATETIME,
    "endedWhy" TEXT
);

-- CreateTable
CREATE TABLE "Instrument" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "make" TEXT NOT NULL,
    "model" TEXT,
    "serial" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "retiredAt" DATETIME
);

-- CreateTable
CREATE TABLE "Calibration" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "instrumentId" TEXT NOT NULL,
    "calibratedOn" DATETIME NOT NULL,
    "validUntil" DATETIME NOT NULL,
    "certificate" TEXT,
    "createdAt" DATETIME NOT NULL,
    CONSTRAINT "Calibration_instrumentId_fkey" FOREIGN KEY ("instrumentId") REFERENCES "Instrument" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "Inspection_organisationId_applianceId_at_idx" ON "Inspection"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "Inspection_organisationId_siteId_at_idx" ON "Inspection"("organisationId", "siteId", "at");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_form_key" ON "Inspection"("organisationId", "formId");

-- CreateIndex
CREATE UNIQUE INDEX "inspection_correction_key" ON "Inspection"("correctsId");

-- CreateIndex
CREATE INDEX "InspectionDue_organisationId_dueAt_idx" ON "InspectionDue"("organisationId", "dueAt");

-- CreateIndex
CREATE INDEX "InspectionPolicy_organisationId_idx" ON "InspectionPolicy"("organisationId");

-- CreateIndex
CREATE INDEX "Competence_organisationId_userId_idx" ON "Competence"("organisationId", "userId");

-- CreateIndex
CREATE UNIQUE INDEX "instrument_serial_key" ON "Instrument"("organisationId", "make", "serial");

-- CreateIndex
CREATE INDEX "Calibration_instrumentId_validUntil_idx" ON "Calibration"("instrumentId", "validUntil");
