import { mailJobKind } from "@/lib/documents/message";
import { escalateOverdue } from "./escalation";
import { heldListJob, heldListKind } from "./held-list";
import { importJob, importJobKind } from "./import-job";
import { listCheckJob } from "./list-check";
import { listCheckKind, queueDueLists } from "./list-schedule";
import { mergePartsJob, mergePartsKind, queueMerging } from "./merge-parts-job";
import { putAwayJob, putAwayKind, queuePuttingAway } from "./put-away-job";
import { sendMail } from "./send-mail";
import { forgetOldPacks, sitePackJob, sitePackKind } from "./site-pack-job";
import type { JobWork, Schedule } from "./worker";

/** What a worker of this product can do, by the kind of job. One table, so that the web process and the worker command do the same. */
export const jobWorks: Readonly<Record<string, JobWork>> = {
  [importJobKind]: importJob,
  [mailJobKind]: sendMail,
  [listCheckKind]: listCheckJob(),
  [heldListKind]: heldListJob,
  [putAwayKind]: putAwayJob,
  [mergePartsKind]: mergePartsJob,
  [sitePackKind]: sitePackJob,
};

/** What makes jobs due by itself. Any number of workers may ask each of them at once. */
export const schedules: readonly Schedule[] = [queuePuttingAway, queueMerging, queueDueLists, escalateOverdue, forgetOldPacks];
