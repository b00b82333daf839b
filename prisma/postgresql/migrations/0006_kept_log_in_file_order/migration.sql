-- DropIndex
DROP INDEX "KeptLogPart_organisationId_siteId_fromAt_idx";

-- DropIndex
DROP INDEX "kept_log_part_key";

-- AlterTable
ALTER TABLE "KeptLogPart" DROP COLUMN "siteId";

-- CreateIndex
CREATE INDEX "KeptLogPart_organisationId_fromAt_idx" ON "KeptLogPart"("organisationId", "fromAt");

-- CreateIndex
CREATE UNIQUE INDEX "kept_log_part_key" ON "KeptLogPart"("importRunId", "number");
