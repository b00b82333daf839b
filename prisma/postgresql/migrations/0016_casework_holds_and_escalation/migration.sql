-- AlterTable
ALTER TABLE "Finding" ADD COLUMN     "escalatedDueAt" TIMESTAMP(3),
ADD COLUMN     "remedyStage" TEXT;

-- CreateTable
CREATE TABLE "FindingWatcher" (
    "findingId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "since" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "FindingWatcher_pkey" PRIMARY KEY ("findingId","userId")
);

-- CreateTable
CREATE TABLE "Incident" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "text" TEXT NOT NULL,
    "injured" BOOLEAN NOT NULL,
    "reportedTo" TEXT,
    "frozen" JSONB NOT NULL,
    "byUserId" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "Incident_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Hold" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "releasedAt" TIMESTAMP(3),
    "releasedWhy" TEXT,
    "releasedByUserId" TEXT,

    CONSTRAINT "Hold_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SiteDueDays" (
    "siteId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "danger" INTEGER NOT NULL,
    "warning" INTEGER NOT NULL,
    "caution" INTEGER NOT NULL,
    "notice" INTEGER NOT NULL,
    "changedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "SiteDueDays_pkey" PRIMARY KEY ("siteId")
);

-- CreateIndex
CREATE INDEX "Incident_organisationId_applianceId_idx" ON "Incident"("organisationId", "applianceId");

-- CreateIndex
CREATE INDEX "Hold_organisationId_subjectKind_subjectId_idx" ON "Hold"("organisationId", "subjectKind", "subjectId");

-- AddForeignKey
ALTER TABLE "FindingWatcher" ADD CONSTRAINT "FindingWatcher_findingId_fkey" FOREIGN KEY ("findingId") REFERENCES "Finding"("id") ON DELETE CASCADE ON UPDATE CASCADE;
