-- AlterTable
ALTER TABLE "KeptLogPart" ADD COLUMN "arrival" INTEGER;
ALTER TABLE "KeptLogPart" ADD COLUMN "siteId" TEXT;

-- CreateTable
CREATE TABLE "ApiKey" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "hint" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "byUserId" TEXT,
    "lastUsedAt" DATETIME,
    "revokedAt" DATETIME
);

-- CreateTable
CREATE TABLE "ReadingBatch" (
    "source" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "bodyHash" TEXT NOT NULL,
    "answer" JSONB NOT NULL,
    "at" DATETIME NOT NULL,

    PRIMARY KEY ("source", "batchId")
);

-- CreateTable
CREATE TABLE "ArrivalDay" (
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "batches" INTEGER NOT NULL,
    "accepted" INTEGER NOT NULL,
    "repeated" INTEGER NOT NULL,
    "setAside" INTEGER NOT NULL,
    "problem" TEXT,
    "problemAt" DATETIME,

    PRIMARY KEY ("siteId", "source", "day")
);

-- CreateTable
CREATE TABLE "SiteStream" (
    "siteId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "lastPart" INTEGER NOT NULL DEFAULT 0,
    "thinnedPart" INTEGER NOT NULL DEFAULT 0,
    "screenedPart" INTEGER NOT NULL DEFAULT 0,
    "newestAt" DATETIME,
    "checkpoint" BLOB,
    "checkpointHash" TEXT,
    "checkpointAt" DATETIME,
    "staleAt" DATETIME,
    "rescreenedAt" DATETIME,
    "rawFrom" DATETIME,
    "keepDays" INTEGER,
    "heldAt" DATETIME,
    "heldWhy" TEXT
);

-- CreateTable
CREATE TABLE "ReadingRetention" (
    "organisationId" TEXT NOT NULL PRIMARY KEY,
    "keepDays" INTEGER,
    "heldAt" DATETIME,
    "heldWhy" TEXT
);

-- CreateTable
CREATE TABLE "Lease" (
    "name" TEXT NOT NULL PRIMARY KEY,
    "owner" TEXT NOT NULL,
    "until" DATETIME NOT NULL,
    "fence" INTEGER NOT NULL
);

-- CreateTable
CREATE TABLE "DrawHour" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "applianceId" TEXT,
    "readings" INTEGER NOT NULL,
    "meanWatts" REAL,
    "maxWatts" REAL,
    "meanAmps" REAL,
    "meanVolts" REAL,

    PRIMARY KEY ("outletId", "receptacle", "at")
);

-- CreateTable
CREATE TABLE "EpisodePart" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME NOT NULL,
    "rows" INTEGER NOT NULL,
    "body" BLOB NOT NULL
);

-- CreateIndex
CREATE INDEX "ApiKey_organisationId_siteId_idx" ON "ApiKey"("organisationId", "siteId");

-- CreateIndex
CREATE INDEX "ReadingBatch_at_idx" ON "ReadingBatch"("at");

-- CreateIndex
CREATE INDEX "ArrivalDay_organisationId_day_idx" ON "ArrivalDay"("organisationId", "day");

-- CreateIndex
CREATE INDEX "SiteStream_organisationId_idx" ON "SiteStream"("organisationId");

-- CreateIndex
CREATE INDEX "DrawHour_organisationId_applianceId_at_idx" ON "DrawHour"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "EpisodePart_siteId_fromAt_idx" ON "EpisodePart"("siteId", "fromAt");

-- CreateIndex
CREATE INDEX "KeptLogPart_siteId_arrival_idx" ON "KeptLogPart"("siteId", "arrival");

-- CreateIndex
CREATE INDEX "KeptLogPart_siteId_toAt_idx" ON "KeptLogPart"("siteId", "toAt");
