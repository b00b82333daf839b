"use client";

import { Button } from "./_ui/button";
import { PlainPage } from "./_ui/plain-page";

export default function ErrorPage({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <PlainPage
      title="Something went wrong on our side"
      action={
        <Button type="button" onClick={reset}>
          Try again
        </Button>
      }
    >
      Nothing was changed by this page. If it happens again, tell an administrator
      {error.digest ? ` and name the mark ${error.digest}, which the server's log has too` : ""}.
    </PlainPage>
  );
}
