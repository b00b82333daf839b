import { ButtonLink } from "./_ui/button";
import { PlainPage } from "./_ui/plain-page";

export const metadata = { title: "Not for your role" };

export default function Forbidden() {
  return (
    <PlainPage title="Your role may not open this page" action={<ButtonLink href="/">Go to Today</ButtonLink>}>
      Ask an administrator for another role, or someone whose role may do it for you.
    </PlainPage>
  );
}
