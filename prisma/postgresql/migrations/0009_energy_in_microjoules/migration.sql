-- AlterTable
ALTER TABLE "EnergyHour" DROP COLUMN "millijoules",
ADD COLUMN     "microjoules" BIGINT NOT NULL;
