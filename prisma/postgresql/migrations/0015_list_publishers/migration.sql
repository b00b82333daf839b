-- AlterTable
ALTER TABLE "NoticeSource" ADD COLUMN     "publishers" TEXT;
