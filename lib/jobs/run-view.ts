import type { Actor } from "@/lib/access/actor";
import { groundOf, targetsOf } from "@/lib/registry/column-targets";
import { firstSetAside, getRun, type SetAsideRow, type ShownRun, seenBefore } from "@/lib/registry/import-list";
import { type ImportPreview, previewImport } from "@/lib/registry/import-preview";
import type { Db } from "@/lib/store/client";
import { findPersonName, type RunChoices } from "@/lib/store/import-queries";
import { findJob } from "@/lib/store/job-queries";
import { openUpload, uploadLength } from "./uploads";

/** A header, what it becomes, and how we know. */
export interface ColumnView {
  readonly header: string;
  readonly target: string | null;
  readonly firstValue: string;
  readonly ground: string;
}

export interface LookView {
  readonly preview: ImportPreview;
  readonly columns: readonly ColumnView[];
  readonly targets: readonly string[];
}

/** All that the page of one run shows. */
export interface RunView {
  readonly run: ShownRun;
  readonly byName: string | null;
  /** `queued` and `working` are a job's; `resting` is a run that nothing works on. */
  readonly work: "queued" | "working" | "resting";
  readonly stopAsked: boolean;
  /** When this attempt began, and the bytes already done then. */
  readonly workingSince: Date | null;
  readonly seenBefore: { readonly id: string; readonly startedAt: Date; readonly fileName: string } | null;
  readonly unreadableCells: "set_aside" | "leave_out";
  /** Whether the uploaded file is still kept, so that the run can start or go on. */
  readonly hasFile: boolean;
  /** Why a job of the run failed, where the run itself does not say. */
  readonly failure: string | null;
  readonly setAside: readonly SetAsideRow[];
}

const setAsideShown = 50;

async function keptUpload(choices: RunChoices | null): Promise<string | null> {
  const upload = choices?.upload;
  return upload !== undefined && (await uploadLength(upload)) !== null ? upload : null;
}

/** Reads what the page of a run shows. Throws `Trouble` ("not_found") or `Refused`. */
export async function getRunView(db: Db, actor: Actor, { runId, now }: { runId: string; now: Date }): Promise<RunView> {
  const run = await getRun(db, actor, { runId, now });
  const choices = run.choices as RunChoices | null;
  const job = await findJob(db, actor.organisationId, runId);
  const isWorking = run.state === "running" || (job?.state === "running" && run.state === "waiting");
  return {
    run,
    byName: run.byUserId === null ? null : await findPersonName(db, run.byUserId),
    work: job?.state === "waiting" ? "queued" : isWorking ? "working" : "resting",
    stopAsked: job?.cancelAsked ?? false,
    workingSince: job?.startedAt ?? run.startedAt,
    seenBefore: await seenBefore(db, actor, runId),
    unreadableCells: choices?.unreadableCells ?? "set_aside",
    hasFile: (await keptUpload(choices)) !== null,
    failure: job?.state === "failed" ? job.message : null,
    setAside: run.setAside > 0 ? await firstSetAside(db, actor, { runId, take: setAsideShown, now }) : [],
  };
}

/** A look at a waiting file's columns and first rows; null for kinds that bring their own columns, or when the file is gone. */
export async function lookAtRun(run: ShownRun): Promise<LookView | null> {
  const { kind, mapping } = run;
  const upload = await keptUpload(run.choices as RunChoices | null);
  if ((kind !== "labels" && kind !== "places") || mapping === null || upload === null) return null;
  const preview = await previewImport({ kind, source: openUpload(upload), targets: mapping.targets });
  const columns = mapping.headers.map((header) => {
    const target = mapping.targets[header] ?? null;
    return { header, target, firstValue: preview.firstValues[header] ?? "", ground: groundOf(kind, header, target) };
  });
  return { preview, columns, targets: targetsOf(kind) };
}
