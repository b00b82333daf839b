-- CreateEnum
CREATE TYPE "MessageState" AS ENUM ('queued', 'sent', 'refused', 'given_up');

-- CreateTable
CREATE TABLE "OutgoingMessage" (
    "id" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "toAddress" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "state" "MessageState" NOT NULL,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "problem" TEXT,
    "createdAt" TIMESTAMP(3) NOT NULL,
    "sentAt" TIMESTAMP(3),
    "byUserId" TEXT,

    CONSTRAINT "OutgoingMessage_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Attachment" (
    "id" TEXT NOT NULL,
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
    "at" TIMESTAMP(3) NOT NULL,
    "withdrawnAt" TIMESTAMP(3),
    "withdrawnWhy" TEXT,

    CONSTRAINT "Attachment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AttachmentBody" (
    "attachmentId" TEXT NOT NULL,
    "bytes" BYTEA NOT NULL,
    "thumbnail" BYTEA,

    CONSTRAINT "AttachmentBody_pkey" PRIMARY KEY ("attachmentId")
);

-- CreateIndex
CREATE INDEX "OutgoingMessage_organisationId_subjectKind_subjectId_idx" ON "OutgoingMessage"("organisationId", "subjectKind", "subjectId");

-- CreateIndex
CREATE INDEX "OutgoingMessage_organisationId_state_createdAt_idx" ON "OutgoingMessage"("organisationId", "state", "createdAt");

-- CreateIndex
CREATE INDEX "Attachment_organisationId_subjectKind_subjectId_at_idx" ON "Attachment"("organisationId", "subjectKind", "subjectId", "at");

-- AddForeignKey
ALTER TABLE "AttachmentBody" ADD CONSTRAINT "AttachmentBody_attachmentId_fkey" FOREIGN KEY ("attachmentId") REFERENCES "Attachment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
