-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN "baselineFrom" TEXT;
ALTER TABLE "Appliance" ADD COLUMN "baselineTo" TEXT;
