-- AlterTable
ALTER TABLE "KeptLogPart" ADD COLUMN     "arrival" INTEGER,
ADD COLUMN     "siteId" TEXT;

-- CreateTable
CREATE TABLE "ApiKey" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "hint" TEXT NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL,
    "byUserId" TEXT,
    "lastUsedAt" TIMESTAMP(3),
    "revokedAt" TIMESTAMP(3),

    CONSTRAINT "ApiKey_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReadingBatch" (
    "source" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "bodyHash" TEXT NOT NULL,
    "answer" JSONB NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "ReadingBatch_pkey" PRIMARY KEY ("source","batchId")
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
    "problemAt" TIMESTAMP(3),

    CONSTRAINT "ArrivalDay_pkey" PRIMARY KEY ("siteId","source","day")
);

-- CreateTable
CREATE TABLE "SiteStream" (
    "siteId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "lastPart" INTEGER NOT NULL DEFAULT 0,
    "thinnedPart" INTEGER NOT NULL DEFAULT 0,
    "screenedPart" INTEGER NOT NULL DEFAULT 0,
    "newestAt" TIMESTAMP(3),
    "checkpoint" BYTEA,
    "checkpointHash" TEXT,
    "checkpointAt" TIMESTAMP(3),
    "staleAt" TIMESTAMP(3),
    "rescreenedAt" TIMESTAMP(3),
    "rawFrom" TIMESTAMP(3),
    "keepDays" INTEGER,
    "heldAt" TIMESTAMP(3),
    "heldWhy" TEXT,

    CONSTRAINT "SiteStream_pkey" PRIMARY KEY ("siteId")
);

-- CreateTable
CREATE TABLE "ReadingRetention" (
    "organisationId" TEXT NOT NULL,
    "keepDays" INTEGER,
    "heldAt" TIMESTAMP(3),
    "heldWhy" TEXT,

    CONSTRAINT "ReadingRetention_pkey" PRIMARY KEY ("organisationId")
);

-- CreateTable
CREATE TABLE "Lease" (
    "name" TEXT NOT NULL,
    "owner" TEXT NOT NULL,
    "until" TIMESTAMP(3) NOT NULL,
    "fence" INTEGER NOT NULL,

    CONSTRAINT "Lease_pkey" PRIMARY KEY ("name")
);

-- CreateTable
CREATE TABLE "DrawHour" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "applianceId" TEXT,
    "readings" INTEGER NOT NULL,
    "meanWatts" DOUBLE PRECISION,
    "maxWatts" DOUBLE PRECISION,
    "meanAmps" DOUBLE PRECISION,
    "meanVolts" DOUBLE PRECISION,

    CONSTRAINT "DrawHour_pkey" PRIMARY KEY ("outletId","receptacle","at")
);

-- CreateTable
CREATE TABLE "EpisodePart" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "fromAt" TIMESTAMP(3) NOT NULL,
    "toAt" TIMESTAMP(3) NOT NULL,
    "rows" INTEGER NOT NULL,
    "body" BYTEA NOT NULL,

    CONSTRAINT "EpisodePart_pkey" PRIMARY KEY ("id")
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
