-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateEnum
CREATE TYPE "Role" AS ENUM ('administrator', 'manager', 'surveyor', 'inspector');

-- CreateEnum
CREATE TYPE "ApplianceState" AS ENUM ('in_use', 'out_of_use', 'retired');

-- CreateEnum
CREATE TYPE "ImportState" AS ENUM ('waiting', 'running', 'done', 'stopped', 'broken_off');

-- CreateEnum
CREATE TYPE "ImportKind" AS ENUM ('labels', 'places', 'notices', 'log');

-- CreateEnum
CREATE TYPE "JobState" AS ENUM ('waiting', 'running', 'done', 'failed', 'cancelled');

-- CreateEnum
CREATE TYPE "Verdict" AS ENUM ('affected', 'not_affected', 'unsure');

-- CreateEnum
CREATE TYPE "FindingState" AS ENUM ('open', 'out_of_use', 'remedy_awaited', 'closed');

-- CreateTable
CREATE TABLE "User" (
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "emailVerified" BOOLEAN NOT NULL DEFAULT false,
    "image" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "User_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Session" (
    "id" TEXT NOT NULL,
    "expiresAt" TIMESTAMP(3) NOT NULL,
    "token" TEXT NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMP(3) NOT NULL,
    "ipAddress" TEXT,
    "userAgent" TEXT,
    "userId" TEXT NOT NULL,

    CONSTRAINT "Session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Account" (
    "id" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "providerId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "accessToken" TEXT,
    "refreshToken" TEXT,
    "idToken" TEXT,
    "accessTokenExpiresAt" TIMESTAMP(3),
    "refreshTokenExpiresAt" TIMESTAMP(3),
    "scope" TEXT,
    "password" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "Account_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Verification" (
    "id" TEXT NOT NULL,
    "identifier" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "expiresAt" TIMESTAMP(3) NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "Verification_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RateLimit" (
    "id" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "lastRequest" BIGINT NOT NULL,

    CONSTRAINT "RateLimit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SignInAttempt" (
    "email" TEXT NOT NULL,
    "failures" INTEGER NOT NULL,
    "firstAt" TIMESTAMP(3) NOT NULL,
    "lockedUntil" TIMESTAMP(3),

    CONSTRAINT "SignInAttempt_pkey" PRIMARY KEY ("email")
);

-- CreateTable
CREATE TABLE "Organisation" (
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Organisation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Membership" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "role" "Role" NOT NULL,
    "allSites" BOOLEAN NOT NULL DEFAULT true,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "endedAt" TIMESTAMP(3),

    CONSTRAINT "Membership_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "MembershipSite" (
    "membershipId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,

    CONSTRAINT "MembershipSite_pkey" PRIMARY KEY ("membershipId","siteId")
);

-- CreateTable
CREATE TABLE "Site" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "timeZone" TEXT,
    "nominalVolts" DOUBLE PRECISION,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" TIMESTAMP(3),

    CONSTRAINT "Site_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Unit" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Unit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Circuit" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "deviceAmps" DOUBLE PRECISION,
    "volts" DOUBLE PRECISION,
    "leg" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Circuit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Outlet" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "circuitId" TEXT,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "outletAmps" DOUBLE PRECISION,
    "receptacles" INTEGER NOT NULL DEFAULT 2,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Outlet_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Appliance" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "tag" TEXT NOT NULL,
    "tagKey" TEXT NOT NULL,
    "tagIssued" BOOLEAN NOT NULL DEFAULT false,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "state" "ApplianceState" NOT NULL DEFAULT 'in_use',
    "category" TEXT,
    "brand" TEXT,
    "model" TEXT,
    "serial" TEXT,
    "made" TEXT,
    "dateCode" TEXT,
    "ratedVolts" TEXT,
    "ratedHertz" TEXT,
    "ratedWatts" DOUBLE PRECISION,
    "ratedAmps" DOUBLE PRECISION,
    "labelText" TEXT,
    "protectionClass" TEXT,
    "maxLampWatts" TEXT,
    "mark" TEXT,
    "upc" TEXT,
    "owner" TEXT,
    "notes" TEXT,
    "inputWatts" DOUBLE PRECISION,
    "inputAmps" DOUBLE PRECISION,
    "contradictions" TEXT,
    "searchText" TEXT NOT NULL,
    "brandKey" TEXT NOT NULL,
    "modelKey" TEXT NOT NULL,
    "sameRowKey" TEXT,
    "sameRowOrdinal" INTEGER,
    "contentHash" TEXT NOT NULL,
    "seenWatts" DOUBLE PRECISION,
    "seenAt" TIMESTAMP(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMP(3) NOT NULL,
    "retiredAt" TIMESTAMP(3),

    CONSTRAINT "Appliance_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "TagCode" (
    "organisationId" TEXT NOT NULL,
    "tagKey" TEXT NOT NULL,
    "applianceId" TEXT,
    "issuedAt" TIMESTAMP(3) NOT NULL,
    "voidedAt" TIMESTAMP(3),

    CONSTRAINT "TagCode_pkey" PRIMARY KEY ("organisationId","tagKey")
);

-- CreateTable
CREATE TABLE "Placement" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "fromAt" TIMESTAMP(3) NOT NULL,
    "toAt" TIMESTAMP(3),
    "source" TEXT NOT NULL,

    CONSTRAINT "Placement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Observation" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "source" TEXT NOT NULL,

    CONSTRAINT "Observation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ImportRun" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "kind" "ImportKind" NOT NULL,
    "state" "ImportState" NOT NULL,
    "fileName" TEXT NOT NULL,
    "fileHash" TEXT,
    "byteLength" BIGINT,
    "bytesDone" BIGINT NOT NULL DEFAULT 0,
    "mapping" JSONB,
    "choices" JSONB,
    "rowsRead" INTEGER NOT NULL DEFAULT 0,
    "created" INTEGER NOT NULL DEFAULT 0,
    "updated" INTEGER NOT NULL DEFAULT 0,
    "unchanged" INTEGER NOT NULL DEFAULT 0,
    "setAside" INTEGER NOT NULL DEFAULT 0,
    "message" TEXT,
    "byUserId" TEXT,
    "startedAt" TIMESTAMP(3) NOT NULL,
    "heartbeatAt" TIMESTAMP(3) NOT NULL,
    "finishedAt" TIMESTAMP(3),

    CONSTRAINT "ImportRun_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SetAsideRow" (
    "importRunId" TEXT NOT NULL,
    "line" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "content" TEXT NOT NULL,

    CONSTRAINT "SetAsideRow_pkey" PRIMARY KEY ("importRunId","line")
);

-- CreateTable
CREATE TABLE "Job" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "state" "JobState" NOT NULL,
    "done" INTEGER NOT NULL DEFAULT 0,
    "total" INTEGER,
    "unitName" TEXT,
    "message" TEXT,
    "result" JSONB,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "cancelAsked" BOOLEAN NOT NULL DEFAULT false,
    "byUserId" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "runAfter" TIMESTAMP(3) NOT NULL,
    "startedAt" TIMESTAMP(3),
    "leaseUntil" TIMESTAMP(3),
    "finishedAt" TIMESTAMP(3),

    CONSTRAINT "Job_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoticeListLoad" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "format" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "fileHash" TEXT NOT NULL,
    "loadedAt" TIMESTAMP(3) NOT NULL,
    "records" INTEGER NOT NULL,
    "fresh" INTEGER NOT NULL,
    "amended" INTEGER NOT NULL,
    "unchanged" INTEGER NOT NULL,
    "gone" INTEGER NOT NULL,
    "importRunId" TEXT,

    CONSTRAINT "NoticeListLoad_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Notice" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "date" TEXT,
    "title" TEXT NOT NULL,
    "body" JSONB NOT NULL,
    "coverage" JSONB NOT NULL,
    "contentHash" TEXT NOT NULL,
    "coverageHash" TEXT NOT NULL,
    "searchText" TEXT NOT NULL,
    "hasIdentifiers" BOOLEAN NOT NULL,
    "brandKeys" TEXT NOT NULL,
    "firstLoadedAt" TIMESTAMP(3) NOT NULL,
    "amendedAt" TIMESTAMP(3),
    "goneAt" TIMESTAMP(3),

    CONSTRAINT "Notice_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoticeWording" (
    "noticeId" TEXT NOT NULL,
    "contentHash" TEXT NOT NULL,
    "body" JSONB NOT NULL,
    "coverage" JSONB NOT NULL,
    "replacedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "NoticeWording_pkey" PRIMARY KEY ("noticeId","contentHash")
);

-- CreateTable
CREATE TABLE "Candidate" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "grade" TEXT NOT NULL,
    "score" DOUBLE PRECISION NOT NULL,
    "reasons" JSONB NOT NULL,
    "ask" JSONB,
    "noticeHash" TEXT NOT NULL,
    "checkedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "Candidate_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Decision" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "verdict" "Verdict" NOT NULL,
    "reason" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" TIMESTAMP(3) NOT NULL,
    "noticeHash" TEXT NOT NULL,
    "grade" TEXT NOT NULL,
    "replacedAt" TIMESTAMP(3),
    "reopenedAt" TIMESTAMP(3),
    "reopenedWhy" TEXT,

    CONSTRAINT "Decision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DrawMinute" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "applianceId" TEXT,
    "meanWatts" DOUBLE PRECISION,
    "maxWatts" DOUBLE PRECISION,
    "meanAmps" DOUBLE PRECISION,
    "meanVolts" DOUBLE PRECISION,
    "readings" INTEGER NOT NULL,

    CONSTRAINT "DrawMinute_pkey" PRIMARY KEY ("outletId","receptacle","at")
);

-- CreateTable
CREATE TABLE "OutletEventRow" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "event" TEXT NOT NULL,
    "cause" TEXT,
    "applianceId" TEXT,

    CONSTRAINT "OutletEventRow_pkey" PRIMARY KEY ("outletId","receptacle","at","event")
);

-- CreateTable
CREATE TABLE "ScreeningResultRow" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "siteId" TEXT,
    "circuitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "applianceId" TEXT,
    "fromAt" TIMESTAMP(3) NOT NULL,
    "toAt" TIMESTAMP(3) NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "limit" DOUBLE PRECISION NOT NULL,
    "unit" TEXT NOT NULL,
    "ratio" DOUBLE PRECISION NOT NULL,
    "signalWord" TEXT NOT NULL,
    "reasons" JSONB NOT NULL,
    "screenedAt" TIMESTAMP(3) NOT NULL,

    CONSTRAINT "ScreeningResultRow_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Finding" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "applianceId" TEXT,
    "noticeId" TEXT,
    "siteId" TEXT NOT NULL,
    "circuitId" TEXT,
    "outletId" TEXT,
    "signalWord" TEXT NOT NULL,
    "state" "FindingState" NOT NULL,
    "sentence" TEXT NOT NULL,
    "evidence" JSONB NOT NULL,
    "ownerId" TEXT,
    "openedAt" TIMESTAMP(3) NOT NULL,
    "refreshedAt" TIMESTAMP(3) NOT NULL,
    "timesSeen" INTEGER NOT NULL DEFAULT 1,
    "dueAt" TIMESTAMP(3) NOT NULL,
    "closedAt" TIMESTAMP(3),
    "outcome" TEXT,
    "outcomeReason" TEXT,
    "outcomeEvidence" TEXT,
    "reviewAt" TIMESTAMP(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "FindingNote" (
    "id" TEXT NOT NULL,
    "findingId" TEXT NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "byUserId" TEXT,
    "step" TEXT,
    "text" TEXT NOT NULL,

    CONSTRAINT "FindingNote_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RecordEntry" (
    "organisationId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "at" TIMESTAMP(3) NOT NULL,
    "actor" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "RecordEntry_pkey" PRIMARY KEY ("organisationId","number")
);

-- CreateIndex
CREATE UNIQUE INDEX "user_email_key" ON "User"("email");

-- CreateIndex
CREATE UNIQUE INDEX "session_token_key" ON "Session"("token");

-- CreateIndex
CREATE INDEX "Session_userId_idx" ON "Session"("userId");

-- CreateIndex
CREATE INDEX "Account_userId_idx" ON "Account"("userId");

-- CreateIndex
CREATE INDEX "Verification_identifier_idx" ON "Verification"("identifier");

-- CreateIndex
CREATE UNIQUE INDEX "rate_limit_key_key" ON "RateLimit"("key");

-- CreateIndex
CREATE INDEX "Membership_userId_idx" ON "Membership"("userId");

-- CreateIndex
CREATE UNIQUE INDEX "membership_person_key" ON "Membership"("organisationId", "userId");

-- CreateIndex
CREATE UNIQUE INDEX "site_name_key" ON "Site"("organisationId", "nameKey");

-- CreateIndex
CREATE UNIQUE INDEX "unit_name_key" ON "Unit"("organisationId", "siteId", "nameKey");

-- CreateIndex
CREATE UNIQUE INDEX "circuit_name_key" ON "Circuit"("organisationId", "siteId", "nameKey");

-- CreateIndex
CREATE INDEX "Outlet_circuitId_idx" ON "Outlet"("circuitId");

-- CreateIndex
CREATE UNIQUE INDEX "outlet_name_key" ON "Outlet"("organisationId", "nameKey");

-- CreateIndex
CREATE INDEX "Appliance_organisationId_siteId_idx" ON "Appliance"("organisationId", "siteId");

-- CreateIndex
CREATE INDEX "Appliance_organisationId_brandKey_modelKey_idx" ON "Appliance"("organisationId", "brandKey", "modelKey");

-- CreateIndex
CREATE INDEX "Appliance_organisationId_updatedAt_idx" ON "Appliance"("organisationId", "updatedAt");

-- CreateIndex
CREATE INDEX "Appliance_organisationId_sameRowKey_idx" ON "Appliance"("organisationId", "sameRowKey");

-- CreateIndex
CREATE INDEX "Appliance_organisationId_inputWatts_idx" ON "Appliance"("organisationId", "inputWatts");

-- CreateIndex
CREATE INDEX "Appliance_outletId_idx" ON "Appliance"("outletId");

-- CreateIndex
CREATE UNIQUE INDEX "appliance_tag_key" ON "Appliance"("organisationId", "tagKey");

-- CreateIndex
CREATE INDEX "Placement_organisationId_applianceId_fromAt_idx" ON "Placement"("organisationId", "applianceId", "fromAt");

-- CreateIndex
CREATE INDEX "Placement_outletId_fromAt_idx" ON "Placement"("outletId", "fromAt");

-- CreateIndex
CREATE INDEX "Observation_organisationId_applianceId_at_idx" ON "Observation"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE UNIQUE INDEX "observation_once_key" ON "Observation"("organisationId", "applianceId", "outletId", "receptacle", "at");

-- CreateIndex
CREATE INDEX "ImportRun_organisationId_startedAt_idx" ON "ImportRun"("organisationId", "startedAt");

-- CreateIndex
CREATE INDEX "Job_state_runAfter_idx" ON "Job"("state", "runAfter");

-- CreateIndex
CREATE INDEX "Job_organisationId_createdAt_idx" ON "Job"("organisationId", "createdAt");

-- CreateIndex
CREATE INDEX "NoticeListLoad_organisationId_loadedAt_idx" ON "NoticeListLoad"("organisationId", "loadedAt");

-- CreateIndex
CREATE INDEX "Notice_organisationId_date_idx" ON "Notice"("organisationId", "date");

-- CreateIndex
CREATE UNIQUE INDEX "notice_record_key" ON "Notice"("organisationId", "source", "key");

-- CreateIndex
CREATE INDEX "Candidate_organisationId_applianceId_idx" ON "Candidate"("organisationId", "applianceId");

-- CreateIndex
CREATE INDEX "Candidate_organisationId_grade_idx" ON "Candidate"("organisationId", "grade");

-- CreateIndex
CREATE UNIQUE INDEX "candidate_pair_key" ON "Candidate"("organisationId", "noticeId", "applianceId");

-- CreateIndex
CREATE INDEX "Decision_organisationId_noticeId_applianceId_idx" ON "Decision"("organisationId", "noticeId", "applianceId");

-- CreateIndex
CREATE INDEX "DrawMinute_organisationId_applianceId_at_idx" ON "DrawMinute"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "OutletEventRow_organisationId_applianceId_at_idx" ON "OutletEventRow"("organisationId", "applianceId", "at");

-- CreateIndex
CREATE INDEX "ScreeningResultRow_organisationId_applianceId_fromAt_idx" ON "ScreeningResultRow"("organisationId", "applianceId", "fromAt");

-- CreateIndex
CREATE UNIQUE INDEX "screening_result_key" ON "ScreeningResultRow"("organisationId", "key");

-- CreateIndex
CREATE INDEX "Finding_organisationId_state_dueAt_idx" ON "Finding"("organisationId", "state", "dueAt");

-- CreateIndex
CREATE INDEX "Finding_applianceId_idx" ON "Finding"("applianceId");

-- CreateIndex
CREATE UNIQUE INDEX "finding_cause_key" ON "Finding"("organisationId", "key");

-- CreateIndex
CREATE INDEX "FindingNote_findingId_at_idx" ON "FindingNote"("findingId", "at");

-- CreateIndex
CREATE INDEX "RecordEntry_organisationId_subjectKind_subjectId_idx" ON "RecordEntry"("organisationId", "subjectKind", "subjectId");

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Account" ADD CONSTRAINT "Account_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_organisationId_fkey" FOREIGN KEY ("organisationId") REFERENCES "Organisation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "MembershipSite" ADD CONSTRAINT "MembershipSite_membershipId_fkey" FOREIGN KEY ("membershipId") REFERENCES "Membership"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "MembershipSite" ADD CONSTRAINT "MembershipSite_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Site" ADD CONSTRAINT "Site_organisationId_fkey" FOREIGN KEY ("organisationId") REFERENCES "Organisation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Unit" ADD CONSTRAINT "Unit_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Circuit" ADD CONSTRAINT "Circuit_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Outlet" ADD CONSTRAINT "Outlet_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Outlet" ADD CONSTRAINT "Outlet_unitId_fkey" FOREIGN KEY ("unitId") REFERENCES "Unit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Outlet" ADD CONSTRAINT "Outlet_circuitId_fkey" FOREIGN KEY ("circuitId") REFERENCES "Circuit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SetAsideRow" ADD CONSTRAINT "SetAsideRow_importRunId_fkey" FOREIGN KEY ("importRunId") REFERENCES "ImportRun"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FindingNote" ADD CONSTRAINT "FindingNote_findingId_fkey" FOREIGN KEY ("findingId") REFERENCES "Finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
