-- AlterTable
ALTER TABLE "FindingNote" ADD COLUMN     "number" INTEGER NOT NULL DEFAULT 0;

-- CreateTable
CREATE TABLE "KeptLogPart" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "importRunId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "fromAt" TIMESTAMP(3) NOT NULL,
    "toAt" TIMESTAMP(3) NOT NULL,
    "rows" INTEGER NOT NULL,
    "body" BYTEA NOT NULL,

    CONSTRAINT "KeptLogPart_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "KeptLogPart_organisationId_siteId_fromAt_idx" ON "KeptLogPart"("organisationId", "siteId", "fromAt");

-- CreateIndex
CREATE UNIQUE INDEX "kept_log_part_key" ON "KeptLogPart"("importRunId", "siteId", "number");
