import { z } from "zod";
import { guestKind } from "@/app/_server/guest-kind";
import { linkRoute } from "@/app/_server/link";
import { openForGuest } from "@/lib/documents/guest-files";

const paramsSchema = z.object({ kind: guestKind, token: z.string().max(100), fileId: z.string().max(100) });

/** A kept photo or PDF for the bearer of a link to what it is kept with; `?size=small` for a photo's small copy. */
export const GET = linkRoute(async ({ db, now, request, params }) => {
  const { kind, token, fileId } = paramsSchema.parse(params);
  const size = new URL(request.url).searchParams.get("size") === "small" ? "small" : "whole";
  const { attachment, bytes } = await openForGuest(db, { kind, token, now }, { id: fileId, size });
  const shown = attachment.mediaType === "application/pdf" ? "attachment" : "inline";
  const headers = {
    "content-type": attachment.mediaType,
    "content-length": String(bytes.length),
    "content-disposition": `${shown}; filename*=UTF-8''${encodeURIComponent(attachment.fileName)}`,
    "content-security-policy": "sandbox; default-src 'none'",
    "cache-control": "private, no-store",
  };
  return new Response(bytes, { headers });
});
