-- CreateEnum
CREATE TYPE "ListCheckOutcome" AS ENUM ('loaded', 'unchanged', 'held', 'refused', 'failed');

-- CreateTable
CREATE TABLE "NoticeSource" (
    "id" TEXT NOT NULL,
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
    "loadedAt" TIMESTAMP(3),
    "checkedAt" TIMESTAMP(3),
    "problem" TEXT,
    "failures" INTEGER NOT NULL DEFAULT 0,
    "nextDueAt" TIMESTAMP(3) NOT NULL,
    "jobId" TEXT,
    "heldCheckId" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL,
    "removedAt" TIMESTAMP(3),

    CONSTRAINT "NoticeSource_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoticeSourceCheck" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "sourceId" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "outcome" "ListCheckOutcome" NOT NULL,
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
    "decidedAt" TIMESTAMP(3),
    "decidedBy" TEXT,
    "takenIn" BOOLEAN,

    CONSTRAINT "NoticeSourceCheck_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "NoticeSource_organisationId_idx" ON "NoticeSource"("organisationId");

-- CreateIndex
CREATE INDEX "NoticeSource_nextDueAt_idx" ON "NoticeSource"("nextDueAt");

-- CreateIndex
CREATE INDEX "NoticeSourceCheck_sourceId_at_idx" ON "NoticeSourceCheck"("sourceId", "at");

-- CreateIndex
CREATE INDEX "NoticeSourceCheck_organisationId_at_idx" ON "NoticeSourceCheck"("organisationId", "at");

-- AddForeignKey
ALTER TABLE "NoticeSourceCheck" ADD CONSTRAINT "NoticeSourceCheck_sourceId_fkey" FOREIGN KEY ("sourceId") REFERENCES "NoticeSource"("id") ON DELETE CASCADE ON UPDATE CASCADE;
