-- CreateTable
CREATE TABLE "User" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "emailVerified" BOOLEAN NOT NULL DEFAULT false,
    "image" TEXT,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Session" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "expiresAt" DATETIME NOT NULL,
    "token" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    "ipAddress" TEXT,
    "userAgent" TEXT,
    "userId" TEXT NOT NULL,
    CONSTRAINT "Session_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Account" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "accountId" TEXT NOT NULL,
    "providerId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "accessToken" TEXT,
    "refreshToken" TEXT,
    "idToken" TEXT,
    "accessTokenExpiresAt" DATETIME,
    "refreshTokenExpiresAt" DATETIME,
    "scope" TEXT,
    "password" TEXT,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    CONSTRAINT "Account_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Verification" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "identifier" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "expiresAt" DATETIME NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "RateLimit" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "key" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "lastRequest" BIGINT NOT NULL
);

-- CreateTable
CREATE TABLE "SignInAttempt" (
    "email" TEXT NOT NULL PRIMARY KEY,
    "failures" INTEGER NOT NULL,
    "firstAt" DATETIME NOT NULL,
    "lockedUntil" DATETIME
);

-- CreateTable
CREATE TABLE "Organisation" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP
);

-- CreateTable
CREATE TABLE "Membership" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "allSites" BOOLEAN NOT NULL DEFAULT true,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "endedAt" DATETIME,
    CONSTRAINT "Membership_organisationId_fkey" FOREIGN KEY ("organisationId") REFERENCES "Organisation" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Membership_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "MembershipSite" (
    "membershipId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,

    PRIMARY KEY ("membershipId", "siteId"),
    CONSTRAINT "MembershipSite_membershipId_fkey" FOREIGN KEY ("membershipId") REFERENCES "Membership" ("id") ON DELETE CASCADE ON UPDATE CASCADE,
    CONSTRAINT "MembershipSite_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Site" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "timeZone" TEXT,
    "nominalVolts" REAL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" DATETIME,
    CONSTRAINT "Site_organisationId_fkey" FOREIGN KEY ("organisationId") REFERENCES "Organisation" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Unit" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "Unit_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Circuit" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "deviceAmps" REAL,
    "volts" REAL,
    "leg" TEXT,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "Circuit_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Outlet" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "circuitId" TEXT,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "outletAmps" REAL,
    "receptacles" INTEGER NOT NULL DEFAULT 2,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "Outlet_siteId_fkey" FOREIGN KEY ("siteId") REFERENCES "Site" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Outlet_unitId_fkey" FOREIGN KEY ("unitId") REFERENCES "Unit" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "Outlet_circuitId_fkey" FOREIGN KEY ("circuitId") REFERENCES "Circuit" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Appliance" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "tag" TEXT NOT NULL,
    "tagKey" TEXT NOT NULL,
    "tagIssued" BOOLEAN NOT NULL DEFAULT false,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "state" TEXT NOT NULL DEFAULT 'in_use',
    "category" TEXT,
    "brand" TEXT,
    "model" TEXT,
    "serial" TEXT,
    "made" TEXT,
    "dateCode" TEXT,
    "ratedVolts" TEXT,
    "ratedHertz" TEXT,
    "ratedWatts" REAL,
    "ratedAmps" REAL,
    "labelText" TEXT,
    "protectionClass" TEXT,
    "maxLampWatts" TEXT,
    "mark" TEXT,
    "upc" TEXT,
    "owner" TEXT,
    "notes" TEXT,
    "inputWatts" REAL,
    "inputAmps" REAL,
    "contradictions" TEXT,
    "searchText" TEXT NOT NULL,
    "brandKey" TEXT NOT NULL,
    "modelKey" TEXT NOT NULL,
    "sameRowKey" TEXT,
    "sameRowOrdinal" INTEGER,
    "contentHash" TEXT NOT NULL,
    "seenWatts" REAL,
    "seenAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    "retiredAt" DATETIME
);

-- CreateTable
CREATE TABLE "TagCode" (
    "organisationId" TEXT NOT NULL,
    "tagKey" TEXT NOT NULL,
    "applianceId" TEXT,
    "issuedAt" DATETIME NOT NULL,
    "voidedAt" DATETIME,

    PRIMARY KEY ("organisationId", "tagKey")
);

-- CreateTable
CREATE TABLE "Placement" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME,
    "source" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Observation" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT,
    "at" DATETIME NOT NULL,
    "source" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "ImportRun" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL,
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
    "startedAt" DATETIME NOT NULL,
    "heartbeatAt" DATETIME NOT NULL,
    "finishedAt" DATETIME
);

-- CreateTable
CREATE TABLE "SetAsideRow" (
    "importRunId" TEXT NOT NULL,
    "line" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "content" TEXT NOT NULL,

    PRIMARY KEY ("importRunId", "line"),
    CONSTRAINT "SetAsideRow_importRunId_fkey" FOREIGN KEY ("importRunId") REFERENCES "ImportRun" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Job" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "state" TEXT NOT NULL,
    "done" INTEGER NOT NULL DEFAULT 0,
    "total" INTEGER,
    "unitName" TEXT,
    "message" TEXT,
    "result" JSONB,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "cancelAsked" BOOLEAN NOT NULL DEFAULT false,
    "byUserId" TEXT,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "runAfter" DATETIME NOT NULL,
    "startedAt" DATETIME,
    "leaseUntil" DATETIME,
    "finishedAt" DATETIME
);

-- CreateTable
CREATE TABLE "NoticeListLoad" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "format" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "fileHash" TEXT NOT NULL,
    "loadedAt" DATETIME NOT NULL,
    "records" INTEGER NOT NULL,
    "fresh" INTEGER NOT NULL,
    "amended" INTEGER NOT NULL,
    "unchanged" INTEGER NOT NULL,
    "gone" INTEGER NOT NULL,
    "importRunId" TEXT
);

-- CreateTable
CREATE TABLE "Notice" (
    "id" TEXT NOT NULL PRIMARY KEY,
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
    "firstLoadedAt" DATETIME NOT NULL,
    "amendedAt" DATETIME,
    "goneAt" DATETIME
);

-- CreateTable
CREATE TABLE "NoticeWording" (
    "noticeId" TEXT NOT NULL,
    "contentHash" TEXT NOT NULL,
    "body" JSONB NOT NULL,
    "coverage" JSONB NOT NULL,
    "replacedAt" DATETIME NOT NULL,

    PRIMARY KEY ("noticeId", "contentHash")
);

-- CreateTable
CREATE TABLE "Candidate" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "grade" TEXT NOT NULL,
    "score" REAL NOT NULL,
    "reasons" JSONB NOT NULL,
    "ask" JSONB,
    "noticeHash" TEXT NOT NULL,
    "checkedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Decision" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "verdict" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "byUserId" TEXT,
    "at" DATETIME NOT NULL,
    "noticeHash" TEXT NOT NULL,
    "grade" TEXT NOT NULL,
    "replacedAt" DATETIME,
    "reopenedAt" DATETIME,
    "reopenedWhy" TEXT
);

-- CreateTable
CREATE TABLE "DrawMinute" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "applianceId" TEXT,
    "meanWatts" REAL,
    "maxWatts" REAL,
    "meanAmps" REAL,
    "meanVolts" REAL,
    "readings" INTEGER NOT NULL,

    PRIMARY KEY ("outletId", "receptacle", "at")
);

-- CreateTable
CREATE TABLE "OutletEventRow" (
    "organisationId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "event" TEXT NOT NULL,
    "cause" TEXT,
    "applianceId" TEXT,

    PRIMARY KEY ("outletId", "receptacle", "at", "event")
);

-- CreateTable
CREATE TABLE "ScreeningResultRow" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "siteId" TEXT,
    "circuitId" TEXT,
    "outletId" TEXT,
    "receptacle" TEXT,
    "applianceId" TEXT,
    "fromAt" DATETIME NOT NULL,
    "toAt" DATETIME NOT NULL,
    "value" REAL NOT NULL,
    "limit" REAL NOT NULL,
    "unit" TEXT NOT NULL,
    "ratio" REAL NOT NULL,
    "signalWord" TEXT NOT NULL,
    "reasons" JSONB NOT NULL,
    "screenedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Finding" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "applianceId" TEXT,
    "noticeId" TEXT,
    "siteId" TEXT NOT NULL,
    "circuitId" TEXT,
    "outletId" TEXT,
    "signalWord" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "sentence" TEXT NOT NULL,
    "evidence" JSONB NOT NULL,
    "ownerId" TEXT,
    "openedAt" DATETIME NOT NULL,
    "refreshedAt" DATETIME NOT NULL,
    "timesSeen" INTEGER NOT NULL DEFAULT 1,
    "dueAt" DATETIME NOT NULL,
    "closedAt" DATETIME,
    "outcome" TEXT,
    "outcomeReason" TEXT,
    "outcomeEvidence" TEXT,
    "reviewAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "FindingNote" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "findingId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "byUserId" TEXT,
    "step" TEXT,
    "text" TEXT NOT NULL,
    CONSTRAINT "FindingNote_findingId_fkey" FOREIGN KEY ("findingId") REFERENCES "Finding" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "RecordEntry" (
    "organisationId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "actor" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    PRIMARY KEY ("organisationId", "number")
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
