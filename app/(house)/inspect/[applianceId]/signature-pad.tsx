"use client";

import { type PointerEvent, useEffect, useRef } from "react";
import { Button } from "@/app/_ui/button";
import styles from "../_parts/inspect.module.css";

interface Props {
  /** What was drawn before, such as before a reload. */
  readonly drawn: Blob | null;
  readonly onDrawn: (signature: Blob | null) => void;
}

function placeOf({ currentTarget, clientX, clientY }: PointerEvent<HTMLCanvasElement>): [number, number] {
  const box = currentTarget.getBoundingClientRect();
  return [((clientX - box.left) * currentTarget.width) / box.width, ((clientY - box.top) * currentTarget.height) / box.height];
}

function begin(event: PointerEvent<HTMLCanvasElement>): void {
  const pen = event.currentTarget.getContext("2d");
  if (!pen) return;
  event.currentTarget.setPointerCapture(event.pointerId);
  pen.lineWidth = 5;
  pen.lineCap = "round";
  pen.lineJoin = "round";
  pen.strokeStyle = "#111";
  pen.beginPath();
  pen.moveTo(...placeOf(event));
}

function move(event: PointerEvent<HTMLCanvasElement>): void {
  const pen = event.currentTarget.getContext("2d");
  if (!pen || event.buttons === 0) return;
  pen.lineTo(...placeOf(event));
  pen.stroke();
}

/** A field to sign in with finger, pen or mouse. It may stay empty: the typed name is the signature. */
export function SignaturePad({ drawn, onDrawn }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const before = useRef(drawn);
  useEffect(() => {
    if (before.current === null) return;
    createImageBitmap(before.current).then(
      (picture) => canvas.current?.getContext("2d")?.drawImage(picture, 0, 0),
      () => undefined,
    );
  }, []);
  const clear = () => {
    const sheet = canvas.current;
    sheet?.getContext("2d")?.clearRect(0, 0, sheet.width, sheet.height);
    onDrawn(null);
  };
  return (
    <div>
      <p className="small soft">You may also draw your signature; it is kept as a picture with the inspection.</p>
      <canvas
        ref={canvas}
        className={styles.pad}
        width={840}
        height={260}
        aria-label={drawn ? "Signature, drawn" : "Signature, not drawn"}
        role="img"
        onPointerDown={begin}
        onPointerMove={move}
        onPointerUp={(event) => event.currentTarget.toBlob(onDrawn, "image/png")}
      />
      <Button type="button" look="quiet" onClick={clear}>
        Clear the drawing
      </Button>
    </div>
  );
}
