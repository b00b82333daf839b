-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Notice" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "format" TEXT NOT NULL DEFAULT 'plain-list',
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
    "goneAt" DATETIME,
    "checkedAt" DATETIME
);
INSERT INTO "new_Notice" ("amendedAt", "body", "brandKeys", "contentHash", "coverage", "coverageHash", "date", "firstLoadedAt", "goneAt", "hasIdentifiers", "id", "key", "number", "organisationId", "searchText", "source", "title") SELECT "amendedAt", "body", "brandKeys", "contentHash", "coverage", "coverageHash", "date", "firstLoadedAt", "goneAt", "hasIdentifiers", "id", "key", "number", "organisationId", "searchText", "source", "title" FROM "Notice";
DROP TABLE "Notice";
ALTER TABLE "new_Notice" RENAME TO "Notice";
CREATE INDEX "Notice_organisationId_date_idx" ON "Notice"("organisationId", "date");
CREATE INDEX "Notice_organisationId_checkedAt_idx" ON "Notice"("organisationId", "checkedAt");
CREATE UNIQUE INDEX "notice_record_key" ON "Notice"("organisationId", "source", "format", "key");
CREATE TABLE "new_Candidate" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "grade" TEXT NOT NULL,
    "score" REAL NOT NULL,
    "reasons" JSONB NOT NULL,
    "ask" JSONB,
    "noticeHash" TEXT NOT NULL,
    "raisedAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "checkedAt" DATETIME NOT NULL,
    "standing" TEXT NOT NULL DEFAULT 'undecided',
    "rank" INTEGER NOT NULL DEFAULT 0,
    CONSTRAINT "Candidate_noticeId_fkey" FOREIGN KEY ("noticeId") REFERENCES "Notice" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Candidate_applianceId_fkey" FOREIGN KEY ("applianceId") REFERENCES "Appliance" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
INSERT INTO "new_Candidate" ("applianceId", "ask", "checkedAt", "grade", "id", "noticeHash", "noticeId", "organisationId", "reasons", "score") SELECT "applianceId", "ask", "checkedAt", "grade", "id", "noticeHash", "noticeId", "organisationId", "reasons", "score" FROM "Candidate";
DROP TABLE "Candidate";
ALTER TABLE "new_Candidate" RENAME TO "Candidate";
CREATE INDEX "Candidate_organisationId_applianceId_idx" ON "Candidate"("organisationId", "applianceId");
CREATE INDEX "Candidate_organisationId_grade_idx" ON "Candidate"("organisationId", "grade");
CREATE INDEX "Candidate_organisationId_rank_score_idx" ON "Candidate"("organisationId", "rank", "score");
CREATE UNIQUE INDEX "candidate_pair_key" ON "Candidate"("organisationId", "noticeId", "applianceId");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
