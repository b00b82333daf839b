import sharp from "sharp";
import { expect, it } from "vitest";
import { boundedForm } from "@/app/_server/bounded-form";
import { Refused } from "@/lib/access/refusal";
import { addAttachment, attachmentsOf, openAttachment, takeBackAttachment } from "@/lib/documents/attachments";
import { keptFile, mostFileBytes } from "@/lib/documents/kept-file";
import { addAppliance } from "@/lib/registry/appliance";
import { applianceForm } from "@/lib/registry/appliance-form";
import type { Store } from "@/lib/store/client";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase } from "../support/database";

const now = new Date("2026-03-02T12:00:00Z");
const pdf = new TextEncoder().encode("%PDF-1.4\n% a receipt\n");

/** A photo as a phone makes it: lying on its side, with the place and the camera in its metadata. */
async function phonePhoto(width = 3000, height = 2000): Promise<Uint8Array> {
  const plain = sharp({ create: { width, height, channels: 3, background: { r: 200, g: 120, b: 40 } } });
  return plain
    .jpeg()
    .withExif({
      IFD0: { Make: "Invented Camera", Artist: "Somebody" },
      IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1", GPSLongitudeRef: "W", GPSLongitude: "0/1 7/1 0/1" },
    })
    .withMetadata({ orientation: 6 })
    .toBuffer();
}

async function house(db: Store) {
  const { id: organisationId } = await makeOrganisation(db);
  const actor = await makeActor(db, organisationId);
  const { site } = await makeSite(db, organisationId);
  const fields = applianceForm.parse({ siteId: site.id, category: "kettle" });
  const { id } = await addAppliance(db, actor, { fields, now });
  return { organisationId, actor, site, subject: { kind: "appliance", id } };
}

eachDatabase("photos and documents", (open) => {
  it("are kept with their thing, upright and without metadata, once, with their record entry", async () => {
    const { db, close } = await open();
    const { actor, organisationId, subject } = await house(db);
    const bytes = await phonePhoto();
    expect((await sharp(bytes).metadata()).exif).toBeDefined();
    const given = { subject, bytes, fileName: "..\\..\\plate\u0007.php.JPEG", note: " The plate ", now };
    const { id } = await addAttachment(db, actor, given);
    expect(await addAttachment(db, actor, given)).toEqual({ id });
    const [kept, ...others] = await attachmentsOf(db, actor, subject);
    expect(others).toEqual([]);
    expect(kept).toMatchObject({ fileName: "plate.php.jpg", mediaType: "image/jpeg", width: 1600, height: 2400, note: "The plate" });
    const whole = await openAttachment(db, actor, { id, size: "whole" });
    const facts = await sharp(whole.bytes).metadata();
    expect(facts).toMatchObject({ format: "jpeg", width: 1600, height: 2400 });
    expect([facts.exif, facts.iptc, facts.xmp, facts.orientation]).toEqual([undefined, undefined, undefined, undefined]);
    expect(Buffer.from(whole.bytes).includes("Invented Camera")).toBe(false);
    const small = await openAttachment(db, actor, { id, size: "small" });
    expect(Math.max(...Object.values(await sizeOf(small.bytes)))).toBe(320);
    expect(await verifyRecord(db, organisationId)).toMatchObject({ broken: null, entries: 2 });
    await close();
  });

  it("are taken back with a reason, and stay; each step may only be taken by who may", async () => {
    const { db, close } = await open();
    const { actor, organisationId, subject } = await house(db);
    const { id } = await addAttachment(db, actor, { subject, bytes: pdf, fileName: "receipt.pdf", note: "", now });
    const inspector = await makeActor(db, organisationId, "inspector");
    await expect(addAttachment(db, inspector, { subject, bytes: pdf, fileName: "a.pdf", note: "", now })).rejects.toThrow(Refused);
    expect((await openAttachment(db, inspector, { id, size: "whole" })).bytes).toEqual(pdf);
    await expect(openAttachment(db, { ...actor, siteIds: ["another"] }, { id, size: "whole" })).rejects.toThrow(Refused);
    const stranger = await makeActor(db, (await makeOrganisation(db)).id);
    await expect(openAttachment(db, stranger, { id, size: "whole" })).rejects.toThrow(/no such file/);
    await expect(attachmentsOf(db, stranger, subject)).rejects.toThrow(/no such thing/);
    await expect(attachmentsOf(db, actor, { kind: "toString", id: "x" })).rejects.toThrow(/no such thing/);
    await expect(takeBackAttachment(db, actor, { id, why: " ", now })).rejects.toThrow(/Say why/);
    await takeBackAttachment(db, actor, { id, why: "Another appliance's receipt", now });
    await expect(takeBackAttachment(db, actor, { id, why: "again", now })).rejects.toThrow(/already/);
    expect(await attachmentsOf(db, actor, subject)).toMatchObject([{ id, withdrawnWhy: "Another appliance's receipt" }]);
    await close();
  });
});

async function sizeOf(bytes: Uint8Array): Promise<{ width: number; height: number }> {
  const { width, height } = await sharp(bytes).metadata();
  return { width, height };
}

it.each([
  ["nothing", new Uint8Array(), /empty/],
  ["text", new TextEncoder().encode("<html><script>alert(1)</script>"), /no photo/],
  ["a drawing that can run", new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>'), /no photo/],
  ["a photo cut off", new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16]), /no photo/],
  ["too long a file", new Uint8Array(mostFileBytes + 1), /20 MB/],
])("%s is not kept", async (_, bytes, why) => {
  await expect(keptFile(bytes)).rejects.toThrow(why);
});

it("a photo with something hidden behind its end is kept without it", async () => {
  const hidden = Buffer.concat([await phonePhoto(60, 40), Buffer.from("PK\u0003\u0004 hidden archive")]);
  expect(Buffer.from((await keptFile(hidden)).bytes).includes("hidden archive")).toBe(false);
});

it("a picture of very many points in few bytes is refused before it fills the memory", async () => {
  const blank = sharp({ create: { width: 12_000, height: 12_000, channels: 3, background: "#000" }, limitInputPixels: false });
  await expect(keptFile(await blank.png().toBuffer())).rejects.toThrow(/no photo/);
});

it("a form's body is read up to a limit, whatever its sender announced", async () => {
  const form = (bytes: number) => {
    const data = new FormData();
    data.set("file", new File([new Uint8Array(bytes)], "a.jpg"));
    return new Request("http://localhost/", { method: "POST", body: data });
  };
  expect((await boundedForm(form(5), 10_000))["file"]).toBeInstanceOf(File);
  await expect(boundedForm(form(20_000), 10_000)).rejects.toThrow(/longer than/);
  await expect(boundedForm(new Request("http://localhost/", { method: "POST", body: "x" }), 10)).rejects.toThrow(/did not arrive whole/);
});
