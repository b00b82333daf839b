-- CreateTable
CREATE TABLE "OutgoingMessage" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "toAddress" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "problem" TEXT,
    "createdAt" DATETIME NOT NULL,
    "sentAt" DATETIME,
    "byUserId" TEXT
);

-- CreateTable
CREATE TABLE "Attachment" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "mediaType" TEXT NOT NULL,
    "byteLength" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "width" INTEGER,
    "height" INTEGER,
    "note" TEXT,
    "byUserId" TEXT,
    "source" TEXT NOT NULL DEFAULT 'person',
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "withdrawnWhy" TEXT
);

-- CreateTable
CREATE TABLE "AttachmentBody" (
    "attachmentId" TEXT NOT NULL PRIMARY KEY,
    "bytes" BLOB NOT NULL,
    "thumbnail" BLOB,
    CONSTRAINT "AttachmentBody_attachmentId_fkey" FOREIGN KEY ("attachmentId") REFERENCES "Attachment" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "OutgoingMessage_organisationId_subjectKind_subjectId_idx" ON "OutgoingMessage"("organisationId", "subjectKind", "subjectId");

-- CreateIndex
CREATE INDEX "OutgoingMessage_organisationId_state_createdAt_idx" ON "OutgoingMessage"("organisationId", "state", "createdAt");

-- CreateIndex
CREATE INDEX "Attachment_organisationId_subjectKind_subjectId_at_idx" ON "Attachment"("organisationId", "subjectKind", "subjectId", "at");
