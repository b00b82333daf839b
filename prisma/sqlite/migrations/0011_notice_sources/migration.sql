-- CreateTable
CREATE TABLE "NoticeSource" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "url" TEXT NOT NULL,
    "everyHours" INTEGER NOT NULL,
    "isOn" BOOLEAN NOT NULL DEFAULT true,
    "etag" TEXT,
    "lastModified" TEXT,
    "fileHash" TEXT,
    "format" TEXT,
    "notices" INTEGER,
    "loadedAt" DATETIME,
    "checkedAt" DATETIME,
    "problem" TEXT,
    "failures" INTEGER NOT NULL DEFAULT 0,
    "nextDueAt" DATETIME NOT NULL,
    "jobId" TEXT,
    "heldCheckId" TEXT,
    "createdAt" DATETIME NOT NULL,
    "removedAt" DATETIME
);

-- CreateTable
CREATE TABLE "NoticeSourceCheck" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "sourceId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "outcome" TEXT NOT NULL,
    "answeredBy" TEXT,
    "status" INTEGER,
    "etag" TEXT,
    "lastModified" TEXT,
    "fileHash" TEXT,
    "byteLength" INTEGER,
    "format" TEXT,
    "notices" INTEGER,
    "message" TEXT,
    "importRunId" TEXT,
    "upload" TEXT,
    "decidedAt" DATETIME,
    "decidedBy" TEXT,
    "takenIn" BOOLEAN,
    CONSTRAINT "NoticeSourceCheck_sourceId_fkey" FOREIGN KEY ("sourceId") REFERENCES "NoticeSource" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "NoticeSource_organisationId_idx" ON "NoticeSource"("organisationId");

-- CreateIndex
CREATE INDEX "NoticeSource_nextDueAt_idx" ON "NoticeSource"("nextDueAt");

-- CreateIndex
CREATE INDEX "NoticeSourceCheck_sourceId_at_idx" ON "NoticeSourceCheck"("sourceId", "at");

-- CreateIndex
CREATE INDEX "NoticeSourceCheck_organisationId_at_idx" ON "NoticeSourceCheck"("organisationId", "at");
