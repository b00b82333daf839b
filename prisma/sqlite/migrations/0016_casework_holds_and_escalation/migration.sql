-- AlterTable
ALTER TABLE "Finding" ADD COLUMN "escalatedDueAt" DATETIME;
ALTER TABLE "Finding" ADD COLUMN "remedyStage" TEXT;

-- CreateTable
CREATE TABLE "FindingWatcher" (
    "findingId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "since" DATETIME NOT NULL,

    PRIMARY KEY ("findingId", "userId"),
    CONSTRAINT "FindingWatcher_findingId_fkey" FOREIGN KEY ("findingId") REFERENCES "Finding" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Incident" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "text" TEXT NOT NULL,
    "injured" BOOLEAN NOT NULL,
    "reportedTo" TEXT,
    "frozen" JSONB NOT NULL,
    "byUserId" TEXT,
    "createdAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Hold" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" DATETIME NOT NULL,
    "releasedAt" DATETIME,
    "releasedWhy" TEXT,
    "releasedByUserId" TEXT
);

-- CreateTable
CREATE TABLE "SiteDueDays" (
    "siteId" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "danger" INTEGER NOT NULL,
    "warning" INTEGER NOT NULL,
    "caution" INTEGER NOT NULL,
    "notice" INTEGER NOT NULL,
    "changedAt" DATETIME NOT NULL
);

-- CreateIndex
CREATE INDEX "Incident_organisationId_applianceId_idx" ON "Incident"("organisationId", "applianceId");

-- CreateIndex
CREATE INDEX "Hold_organisationId_subjectKind_subjectId_idx" ON "Hold"("organisationId", "subjectKind", "subjectId");
