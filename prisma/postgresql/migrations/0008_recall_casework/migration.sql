-- AlterTable
ALTER TABLE "Notice" ADD COLUMN     "reading" JSONB;

-- AlterTable
ALTER TABLE "Decision" ADD COLUMN     "coverageHash" TEXT,
ADD COLUMN     "facts" JSONB,
ADD COLUMN     "groupAnswerId" TEXT;

-- CreateTable
CREATE TABLE "CoverageCorrection" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "act" TEXT NOT NULL,
    "statement" JSONB,
    "statementKey" TEXT NOT NULL,
    "passage" JSONB,
    "reason" TEXT NOT NULL,
    "noticeHash" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "withdrawnAt" TIMESTAMP(3),
    "withdrawnByUserId" TEXT,
    "withdrawnWhy" TEXT,

    CONSTRAINT "CoverageCorrection_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CoverageVersion" (
    "noticeId" TEXT NOT NULL,
    "coverageHash" TEXT NOT NULL,
    "coverage" JSONB NOT NULL,
    "keptAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "CoverageVersion_pkey" PRIMARY KEY ("noticeId","coverageHash")
);

-- CreateTable
CREATE TABLE "MakerAlias" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "otherName" TEXT NOT NULL,
    "otherKey" TEXT NOT NULL,
    "relation" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "withdrawnAt" TIMESTAMP(3),
    "withdrawnByUserId" TEXT,
    "withdrawnWhy" TEXT,

    CONSTRAINT "MakerAlias_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "GroupAnswer" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "groupKey" TEXT NOT NULL,
    "maker" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "notices" JSONB NOT NULL,
    "appliances" INTEGER NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "replacedAt" TIMESTAMP(3),

    CONSTRAINT "GroupAnswer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LabelAnswer" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "field" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "before" TEXT,
    "source" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "gradeBefore" TEXT NOT NULL,
    "gradeAfter" TEXT,
    "written" BOOLEAN NOT NULL,

    CONSTRAINT "LabelAnswer_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "CoverageCorrection_organisationId_noticeId_idx" ON "CoverageCorrection"("organisationId", "noticeId");

-- CreateIndex
CREATE INDEX "MakerAlias_organisationId_withdrawnAt_idx" ON "MakerAlias"("organisationId", "withdrawnAt");

-- CreateIndex
CREATE INDEX "GroupAnswer_organisationId_groupKey_idx" ON "GroupAnswer"("organisationId", "groupKey");

-- CreateIndex
CREATE INDEX "LabelAnswer_organisationId_applianceId_at_idx" ON "LabelAnswer"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "Decision_groupAnswerId_idx" ON "Decision"("groupAnswerId");
