-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN "allowedAmps" REAL;
ALTER TABLE "Appliance" ADD COLUMN "allowedWatts" REAL;
ALTER TABLE "Appliance" ADD COLUMN "lastSeenAt" DATETIME;
ALTER TABLE "Appliance" ADD COLUMN "seenAmps" REAL;
