-- AlterTable
ALTER TABLE "SiteStream" DROP COLUMN "heldAt",
DROP COLUMN "heldWhy",
ADD COLUMN     "anchor" BYTEA;

-- AlterTable
ALTER TABLE "ReadingRetention" DROP COLUMN "heldAt",
DROP COLUMN "heldWhy";
