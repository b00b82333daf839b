import type { Notice } from "@/lib/notices/notice";
import { dayWords } from "./grade-words";

/** Only a web address is a link: a list could carry anything in that column. */
function webAddress(url: string | null): string | null {
  return url !== null && /^https?:\/\//i.test(url) && URL.canParse(url) ? url : null;
}

/** Whose words they are, of when, and where the regulator keeps them. */
export function RegulatorLink({ notice }: { notice: Notice }) {
  const url = webAddress(notice.url);
  const source = notice.source === "" ? "" : `${notice.source}, `;
  return (
    <span className="small soft">
      and, beside it, how we understood them. {source}
      {notice.number}
      {notice.date && `, ${dayWords(notice.date)}`}.{" "}
      {url && (
        <a href={url} rel="noreferrer noopener" target="_blank">
          At the regulator's site
        </a>
      )}
    </span>
  );
}
