-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_KeptLogPart" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "importRunId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME NOT NULL,
    "rows" INTEGER NOT NULL,
    "body" BLOB NOT NULL
);
INSERT INTO "new_KeptLogPart" ("body", "fromAt", "id", "importRunId", "number", "organisationId", "rows", "toAt") SELECT "body", "fromAt", "id", "importRunId", "number", "organisationId", "rows", "toAt" FROM "KeptLogPart";
DROP TABLE "KeptLogPart";
ALTER TABLE "new_KeptLogPart" RENAME TO "KeptLogPart";
CREATE INDEX "KeptLogPart_organisationId_fromAt_idx" ON "KeptLogPart"("organisationId", "fromAt");
CREATE UNIQUE INDEX "kept_log_part_key" ON "KeptLogPart"("importRunId", "number");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
