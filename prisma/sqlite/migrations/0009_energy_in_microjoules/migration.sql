-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_EnergyHour" (
    "organisationId" TEXT NOT NULL,
    "siteId" TEXT NOT NULL,
    "unitId" TEXT,
    "circuitId" TEXT,
    "outletId" TEXT NOT NULL,
    "receptacle" TEXT NOT NULL,
    "applianceId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "microjoules" BIGINT NOT NULL,
    "measuredMs" INTEGER NOT NULL,
    "gapMs" INTEGER NOT NULL,

    PRIMARY KEY ("outletId", "receptacle", "at", "applianceId")
);
INSERT INTO "new_EnergyHour" ("applianceId", "at", "circuitId", "gapMs", "measuredMs", "organisationId", "outletId", "receptacle", "siteId", "unitId") SELECT "applianceId", "at", "circuitId", "gapMs", "measuredMs", "organisationId", "outletId", "receptacle", "siteId", "unitId" FROM "EnergyHour";
DROP TABLE "EnergyHour";
ALTER TABLE "new_EnergyHour" RENAME TO "EnergyHour";
CREATE INDEX "EnergyHour_organisationId_siteId_at_idx" ON "EnergyHour"("organisationId", "siteId", "at");
CREATE INDEX "EnergyHour_organisationId_applianceId_at_idx" ON "EnergyHour"("organisationId", "applianceId", "at");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
