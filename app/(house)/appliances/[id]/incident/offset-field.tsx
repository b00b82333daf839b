"use client";

import { useEffect, useState } from "react";

/** How far the browser's clock is from UTC, minutes. Without scripts the time counts as UTC. */
export function OffsetField() {
  const [minutes, setMinutes] = useState(0);
  useEffect(() => setMinutes(new Date().getTimezoneOffset()), []);
  return <input type="hidden" name="offsetMinutes" value={minutes} />;
}
