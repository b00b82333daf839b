-- DropIndex
DROP INDEX "notice_record_key";

-- AlterTable
ALTER TABLE "Notice" ADD COLUMN     "checkedAt" TIMESTAMP(3),
ADD COLUMN     "format" TEXT NOT NULL DEFAULT 'plain-list';

-- AlterTable
ALTER TABLE "Candidate" ADD COLUMN     "raisedAt" TIMESTAMP(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "rank" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "standing" TEXT NOT NULL DEFAULT 'undecided';

-- CreateIndex
CREATE INDEX "Notice_organisationId_checkedAt_idx" ON "Notice"("organisationId", "checkedAt");

-- CreateIndex
CREATE UNIQUE INDEX "notice_record_key" ON "Notice"("organisationId", "source", "format", "key");

-- CreateIndex
CREATE INDEX "Candidate_organisationId_rank_score_idx" ON "Candidate"("organisationId", "rank", "score");

-- AddForeignKey
ALTER TABLE "Candidate" ADD CONSTRAINT "Candidate_noticeId_fkey" FOREIGN KEY ("noticeId") REFERENCES "Notice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Candidate" ADD CONSTRAINT "Candidate_applianceId_fkey" FOREIGN KEY ("applianceId") REFERENCES "Appliance"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
