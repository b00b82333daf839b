import fc from "fast-check";

/** Properties are tried on the same cases in every run, so that a run can be repeated; another seed tries others. */
fc.configureGlobal({ seed: Number(process.env["PLATEWARDEN_TEST_SEED"] ?? 20261125) });
