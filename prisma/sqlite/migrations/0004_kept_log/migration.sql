-- CreateTable
CREATE TABLE "KeptLogPart" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "importRunId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME NOT NULL,
    "rows" INTEGER NOT NULL,
    "body" BLOB NOT NULL
);

-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_FindingNote" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "findingId" TEXT NOT NULL,
    "number" INTEGER NOT NULL DEFAULT 0,
    "at" DATETIME NOT NULL,
    "byUserId" TEXT,
    "step" TEXT,
    "text" TEXT NOT NULL,
    CONSTRAINT "FindingNote_findingId_fkey" FOREIGN KEY ("findingId") REFERENCES "Finding" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
INSERT INTO "new_FindingNote" ("at", "byUserId", "findingId", "id", "step", "text") SELECT "at", "byUserId", "findingId", "id", "step", "text" FROM "FindingNote";
DROP TABLE "FindingNote";
ALTER TABLE "new_FindingNote" RENAME TO "FindingNote";
CREATE INDEX "FindingNote_findingId_at_idx" ON "FindingNote"("findingId", "at");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;

-- CreateIndex
CREATE INDEX "KeptLogPart_organisationId_siteId_fromAt_idx" ON "KeptLogPart"("organisationId", "siteId", "fromAt");

-- CreateIndex
CREATE UNIQUE INDEX "kept_log_part_key" ON "KeptLogPart"("importRunId", "siteId", "number");
