-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_SiteStream" (
    "siteId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "lastPart" INTEGER NOT NULL DEFAULT 0,
    "thinnedPart" INTEGER NOT NULL DEFAULT 0,
    "screenedPart" INTEGER NOT NULL DEFAULT 0,
    "newestAt" DATETIME,
    "checkpoint" BLOB,
    "checkpointHash" TEXT,
    "checkpointAt" DATETIME,
    "staleAt" DATETIME,
    "rescreenedAt" DATETIME,
    "rawFrom" DATETIME,
    "anchor" BLOB,
    "keepDays" INTEGER
);
INSERT INTO "new_SiteStream" ("checkpoint", "checkpointAt", "checkpointHash", "keepDays", "lastPart", "newestAt", "organisationId", "rawFrom", "rescreenedAt", "screenedPart", "siteId", "staleAt", "thinnedPart") SELECT "checkpoint", "checkpointAt", "checkpointHash", "keepDays", "lastPart", "newestAt", "organisationId", "rawFrom", "rescreenedAt", "screenedPart", "siteId", "staleAt", "thinnedPart" FROM "SiteStream";
DROP TABLE "SiteStream";
ALTER TABLE "new_SiteStream" RENAME TO "SiteStream";
CREATE INDEX "SiteStream_organisationId_idx" ON "SiteStream"("organisationId");
CREATE TABLE "new_ReadingRetention" (
    "organisationId" TEXT NOT NULL PRIMARY KEY,
    "keepDays" INTEGER
);
INSERT INTO "new_ReadingRetention" ("keepDays", "organisationId") SELECT "keepDays", "organisationId" FROM "ReadingRetention";
DROP TABLE "ReadingRetention";
ALTER TABLE "new_ReadingRetention" RENAME TO "ReadingRetention";
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
