-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN     "baselineFrom" TEXT,
ADD COLUMN     "baselineTo" TEXT;
