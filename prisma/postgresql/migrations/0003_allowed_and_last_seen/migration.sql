-- AlterTable
ALTER TABLE "Appliance" ADD COLUMN     "allowedAmps" DOUBLE PRECISION,
ADD COLUMN     "allowedWatts" DOUBLE PRECISION,
ADD COLUMN     "lastSeenAt" TIMESTAMP(3),
ADD COLUMN     "seenAmps" DOUBLE PRECISION;
