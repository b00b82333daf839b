import { mailJobKind } from "@/lib/documents/message";
import { importJob, importJobKind } from "./import-job";
import { sendMail } from "./send-mail";
import type { JobWork } from "./worker";

/** What a worker of this product can do, by the kind of job. One table, so that the web process and the worker command do the same. */
export const jobWorks: Readonly<Record<string, JobWork>> = {
  [importJobKind]: importJob,
  [mailJobKind]: sendMail,
};
