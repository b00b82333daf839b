-- CreateTable
CREATE TABLE "SitePolicy" (
    "siteId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "figures" JSONB NOT NULL,
    "standards" JSONB NOT NULL,
    "changedAt" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "EnergyHour" (
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "circuitId" TEXT,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "millijoules" BIGINT NOT NULL,
    "measuredMs" INTEGER NOT NULL,
    "gapMs" INTEGER NOT NULL,

    PRIMARY KEY ("outletId", "receptacle", "at", "applianceId")
);

-- CreateTable
CREATE TABLE "EnergyDue" (
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "marks" INTEGER NOT NULL DEFAULT 1,

    PRIMARY KEY ("siteId", "at")
);

-- CreateTable
CREATE TABLE "EnergyMeter" (
    "outletId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "circuitId" TEXT,
    "createdAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "EnergyTariff" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "validFrom" TEXT NOT NULL,
    "validTo" TEXT,
    "prices" JSONB NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "endedAt" DATETIME
);

-- CreateTable
CREATE TABLE "EnergyLimit" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "thing" TEXT NOT NULL,
    "thingId" TEXT NOT NULL,
    "kilowattHours" REAL NOT NULL,
    "fromHour" INTEGER NOT NULL,
    "toHour" INTEGER NOT NULL,
    "days" TEXT NOT NULL,
    "signalWord" TEXT NOT NULL,
    "validFrom" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "endedAt" DATETIME
);

-- CreateTable
CREATE TABLE "DemandEvent" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME NOT NULL,
    "similarDays" INTEGER NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "endedAt" DATETIME
);

-- CreateIndex
CREATE INDEX "SitePolicy_organisationId_idx" ON "SitePolicy"("organisationId");

-- CreateIndex
CREATE INDEX "EnergyHour_organisationId_siteId_at_idx" ON "EnergyHour"("organisationId", "siteId", "at");

-- CreateIndex
CREATE INDEX "EnergyHour_organisationId_applianceId_at_idx" ON "EnergyHour"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "EnergyDue_organisationId_idx" ON "EnergyDue"("organisationId");

-- CreateIndex
CREATE INDEX "EnergyMeter_siteId_idx" ON "EnergyMeter"("siteId");

-- CreateIndex
CREATE INDEX "EnergyTariff_organisationId_siteId_idx" ON "EnergyTariff"("organisationId", "siteId");

-- CreateIndex
CREATE INDEX "EnergyLimit_organisationId_siteId_idx" ON "EnergyLimit"("organisationId", "siteId");

-- CreateIndex
CREATE INDEX "DemandEvent_organisationId_siteId_fromAt_idx" ON "DemandEvent"("organisationId", "siteId", "fromAt");
