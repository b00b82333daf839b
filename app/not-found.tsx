import { ButtonLink } from "./_ui/button";
import { PlainPage } from "./_ui/plain-page";

export const metadata = { title: "Not here" };

export default function NotFound() {
  return (
    <PlainPage title="Nothing is kept at this address" action={<ButtonLink href="/">Go to Today</ButtonLink>}>
      It may have been mistyped, or it belongs to a site that your account does not cover. Nothing is ever deleted here: look for it in the
      lists.
    </PlainPage>
  );
}
