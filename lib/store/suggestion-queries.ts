import type { Coverage } from "@/lib/notices/coverage";
import type { SiteScope } from "./candidate-list-queries";
import type { Db } from "./client";

const mostModels = 50_000;
const mostNotices = 100_000;

/** Makers and models of the appliances that are not retired, each pair once with how many. */
export async function findKnownModels(db: Db, { organisationId, siteId }: SiteScope) {
  const groups = await db.appliance.groupBy({
    by: ["brand", "model"],
    where: { organisationId, state: { not: "retired" }, ...(siteId ? { siteId } : {}) },
    _count: { _all: true },
    orderBy: [{ brand: "asc" }, { model: "asc" }],
    take: mostModels,
  });
  return groups.map(({ brand, model, _count }) => ({ brand, model, appliances: _count._all }));
}

/** What notices are found by. */
export async function findNoticeNames(db: Db, organisationId: string) {
  const rows = await db.notice.findMany({
    where: { organisationId },
    select: { id: true, number: true, date: true, title: true, coverage: true },
    orderBy: [{ date: "desc" }, { id: "asc" }],
    take: mostNotices,
  });
  return rows.map(({ coverage, ...row }) => {
    const { brands, models } = coverage as unknown as Coverage;
    return { ...row, brands, models: models.include };
  });
}

/** The number of the latest entry of the record: equal numbers, nothing changed. */
export async function latestRecordNumber(db: Db, organisationId: string): Promise<number> {
  const last = await db.recordEntry.findFirst({ where: { organisationId }, orderBy: { number: "desc" }, select: { number: true } });
  return last?.number ?? 0;
}
