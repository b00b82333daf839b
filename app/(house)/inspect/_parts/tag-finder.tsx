"use client";

import { useEffect, useRef, useState } from "react";
import { Button } from "@/app/_ui/button";
import styles from "./inspect.module.css";

interface Detector {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
type DetectorClass = new (options: { formats: string[] }) => Detector;

const detectorOf = (): DetectorClass | null => (Reflect.get(window, "BarcodeDetector") as DetectorClass | undefined) ?? null;
const lookMs = 250;

/** Reads a tag's code with the camera where the browser can; the code goes into the field beside it and the form is sent. */
export function TagScanner({ fieldId }: { fieldId: string }) {
  const [can, setCan] = useState(false);
  const [on, setOn] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const video = useRef<HTMLVideoElement>(null);
  useEffect(() => setCan(detectorOf() !== null && "mediaDevices" in navigator), []);
  useEffect(() => {
    const screen = video.current;
    const Kind = detectorOf();
    if (!on || !screen || !Kind) return;
    const detector = new Kind({ formats: ["qr_code", "code_128", "data_matrix"] });
    let stream: MediaStream | null = null;
    let stopped = false;
    const look = async () => {
      const [code] = stopped ? [] : await detector.detect(screen).catch(() => []);
      if (!code || stopped) return;
      const field = document.getElementById(fieldId);
      if (!(field instanceof HTMLInputElement)) return;
      field.value = code.rawValue;
      setOn(false);
      field.form?.requestSubmit();
    };
    navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } }).then(
      (opened) => {
        stream = opened;
        if (stopped) for (const track of opened.getTracks()) track.stop();
        screen.srcObject = opened;
        void screen.play();
      },
      () => {
        setProblem("The camera cannot be used: type the tag instead.");
        setOn(false);
      },
    );
    const timer = setInterval(() => void look(), lookMs);
    return () => {
      stopped = true;
      clearInterval(timer);
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
  }, [on, fieldId]);
  if (!can) return null;
  return (
    <div>
      {on && <video ref={video} className={styles.camera} muted playsInline aria-label="Camera" />}
      <Button type="button" look="plain" onClick={() => setOn(!on)}>
        {on ? "Stop the camera" : "Scan the tag"}
      </Button>
      {problem && <p role="alert">{problem}</p>}
    </div>
  );
}
