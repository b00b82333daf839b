-- CreateTable
CREATE TABLE "Inspection" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "applianceId" TEXT NOT NULL,
    "formId" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "receivedAt" TIMESTAMP(3) NOT NULL,
    "byUserId" TEXT,
    "signedName" TEXT NOT NULL,
    "standard" TEXT NOT NULL,
    "environment" TEXT NOT NULL,
    "protectionClass" TEXT,
    "cordMetres" DOUBLE PRECISION,
    "checklist" JSONB NOT NULL,
    "measurements" JSONB NOT NULL,
    "instruments" JSONB NOT NULL,
    "competence" JSONB NOT NULL,
    "result" TEXT NOT NULL,
    "reasons" JSONB NOT NULL,
    "notes" TEXT,
    "nextDueAt" TIMESTAMP(3),
    "nextDueWhy" TEXT NOT NULL,
    "tookOutOfUse" BOOLEAN NOT NULL DEFAULT false,
    "findingId" TEXT,
    "correctsId" TEXT,
    "correctionWhy" TEXT,

    CONSTRAINT "Inspection_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "InspectionDue" (
    "applianceId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "lastInspectionId" TEXT NOT NULL,
    "lastAt" TIMESTAMP(3) NOT NULL,
    "lastResult" TEXT NOT NULL,
    "dueAt" TIMESTAMP(3),

    CONSTRAINT "InspectionDue_pkey" PRIMARY KEY ("applianceId")
);

-- CreateTable
CREATE TABLE "InspectionPolicy" (
    "siteId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "standard" TEXT NOT NULL,
    "environment" TEXT NOT NULL,
    "months" INTEGER,
    "firstDays" INTEGER NOT NULL,
    "changedAt" TIMESTAMP(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "InspectionPolicy_pkey" PRIMARY KEY ("siteId")
);

-- CreateTable
CREATE TABLE "Competence" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "issuedBy" TEXT NOT NULL,
    "validUntil" TIMESTAMP(3),
    "createdAt" TIMESTAMP(3) NOT NULL,
    "endedAt" TIMESTAMP(3),
    "endedWhy" TEXT,

    CONSTRAINT "Competence_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Instrument" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "make" TEXT NOT NULL,
    "model" TEXT,
    "serial" TEXT NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL,
    "retiredAt" TIMESTAMP(3),

    CONSTRAINT "Instrument_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Calibration" (
    "id" TEXT NOT NULL,
    "instrumentId" TEXT NOT NULL,
    "calibratedOn" TIMESTAMP(3) NOT NULL,
    "validUntil" TIMESTAMP(3) NOT NULL,
    "certificate" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "Calibration_pkey" PRIMARY KEY ("id")
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

-- AddForeignKey
ALTER TABLE "InspectionDue" ADD CONSTRAINT "InspectionDue_applianceId_fkey" FOREIGN KEY ("applianceId") REFERENCES "Appliance"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Calibration" ADD CONSTRAINT "Calibration_instrumentId_fkey" FOREIGN KEY ("instrumentId") REFERENCES "Instrument"("id") ON DELETE CASCADE ON UPDATE CASCADE;
