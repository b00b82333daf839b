-- CreateTable
CREATE TABLE "SitePack" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "madeAt" TIMESTAMP(3) NOT NULL,
    "byUserId" TEXT,
    "head" TEXT,
    "rows" INTEGER NOT NULL,
    "pages" INTEGER NOT NULL,
    "document" BYTEA NOT NULL,
    "documentHash" TEXT NOT NULL,
    "tables" BYTEA NOT NULL,
    "tablesHash" TEXT NOT NULL,

    CONSTRAINT "SitePack_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "SitePack_organisationId_siteId_day_idx" ON "SitePack"("organisationId", "siteId", "day");

-- CreateIndex
CREATE INDEX "SitePack_madeAt_idx" ON "SitePack"("madeAt");
