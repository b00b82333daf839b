-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN     "outOfUseAt" TIMESTAMP(3);

-- AlterTable
ALTER TABLE "TagCode" ADD COLUMN     "scanId" TEXT;

-- CreateTable
CREATE TABLE "Tenancy" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT NOT NULL,
    "name" TEXT,
    "email" TEXT,
    "language" TEXT NOT NULL,
    "note" TEXT,
    "fromAt" TIMESTAMP(3) NOT NULL,
    "toAt" TIMESTAMP(3),
    "erasedAt" TIMESTAMP(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Tenancy_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SiteContact" (
    "siteId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "phone" TEXT NOT NULL,
    "email" TEXT,
    "changedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "SiteContact_pkey" PRIMARY KEY ("siteId")
);

-- CreateTable
CREATE TABLE "OccupantText" (
    "organisationId" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "changedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "OccupantText_pkey" PRIMARY KEY ("organisationId","language","part")
);

-- CreateTable
CREATE TABLE "OccupantNotice" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "findingId" TEXT NOT NULL,
    "tenancyId" TEXT NOT NULL,
    "linkId" TEXT NOT NULL,
    "messageId" TEXT,
    "language" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "byUserId" TEXT,
    "unpluggedAt" TIMESTAMP(3),

    CONSTRAINT "OccupantNotice_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Tenancy_organisationId_siteId_idx" ON "Tenancy"("organisationId", "siteId");

-- CreateIndex
CREATE INDEX "Tenancy_unitId_toAt_idx" ON "Tenancy"("unitId", "toAt");

-- CreateIndex
CREATE UNIQUE INDEX "occupant_notice_link_key" ON "OccupantNotice"("linkId");

-- CreateIndex
CREATE INDEX "OccupantNotice_organisationId_findingId_idx" ON "OccupantNotice"("organisationId", "findingId");

-- CreateIndex
CREATE INDEX "OccupantNotice_tenancyId_idx" ON "OccupantNotice"("tenancyId");

-- CreateIndex
CREATE UNIQUE INDEX "tag_code_scan_key" ON "TagCode"("scanId");

-- CreateIndex
CREATE INDEX "TagCode_tagKey_idx" ON "TagCode"("tagKey");
-- What was out of use before this was kept: since its last change.
UPDATE "Appliance" SET "outOfUseAt" = "updatedAt" WHERE "state" = 'out_of_use';
