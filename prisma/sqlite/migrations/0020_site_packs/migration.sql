-- CreateTable
CREATE TABLE "SitePack" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "madeAt" DATETIME NOT NULL,
    "byUserId" TEXT,
    "head" TEXT,
    "rows" INTEGER NOT NULL,
    "pages" INTEGER NOT NULL,
    "document" BLOB NOT NULL,
    "documentHash" TEXT NOT NULL,
    "tables" BLOB NOT NULL,
    "tablesHash" TEXT NOT NULL
);

-- CreateIndex
CREATE INDEX "SitePack_organisationId_siteId_day_idx" ON "SitePack"("organisationId", "siteId", "day");

-- CreateIndex
CREATE INDEX "SitePack_madeAt_idx" ON "SitePack"("madeAt");
