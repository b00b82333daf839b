-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN     "foldedModel" TEXT;

-- CreateIndex
CREATE INDEX "Appliance_organisationId_foldedModel_idx" ON "Appliance"("organisationId", "foldedModel");
