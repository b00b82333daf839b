-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN     "rowHash" TEXT;
