import { z } from "zod";
import { route } from "@/app/_server/route";
import { openAttachment } from "@/lib/documents/attachments";

/** A kept photo or PDF, or with `?size=small` a photo's small copy. Nothing in it can run: photos were drawn anew, PDFs are only saved. */
export const GET = route(
  { permission: "see appliances", query: z.object({ size: z.enum(["whole", "small"]).default("whole") }) },
  async ({ db, actor, params, query }) => {
    const { attachment, bytes } = await openAttachment(db, actor, { id: params["id"] ?? "", size: query.size });
    const shown = attachment.mediaType === "application/pdf" ? "attachment" : "inline";
    const headers = {
      "content-type": attachment.mediaType,
      "content-length": String(bytes.length),
      "content-disposition": `${shown}; filename*=UTF-8''${encodeURIComponent(attachment.fileName)}`,
      "content-security-policy": "sandbox; default-src 'none'",
      "cache-control": "private, max-age=31536000, immutable",
    };
    return new Response(bytes, { headers });
  },
);
