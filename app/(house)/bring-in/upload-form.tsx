"use client";

import { useRouter } from "next/navigation";
import { type DragEvent, useId, useRef, useState } from "react";
import { Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import { Progress } from "@/app/_ui/progress";
import styles from "./bring-in.module.css";

interface Sending {
  readonly name: string;
  readonly done: number;
  readonly total: number;
}

const megabytes = (bytes: number) => (bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`);
const lost = "No answer came: the connection may be lost. The file is still chosen here; send it again when you are connected.";

/** No answer came, so that the same file is to be sent once more; any other no is about the file. */
class Lost extends Error {
  constructor() {
    super(lost);
  }
}

/** Sends one file as the raw body; `fetch` would not say how much has gone out. */
function send(file: File, onSent: (done: number, total: number) => void): Promise<string> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.upload.onprogress = (event) => onSent(event.loaded, event.total);
    request.onerror = () => reject(new Lost());
    request.onload = () => {
      const answer = (request.response ?? {}) as { runId?: string; problem?: string };
      if (request.status === 200 && answer.runId) resolve(answer.runId);
      else reject(answer.problem ? new Error(answer.problem) : new Lost());
    };
    request.open("POST", `/api/v1/uploads?name=${encodeURIComponent(file.name)}`);
    request.responseType = "json";
    request.setRequestHeader("content-type", "application/octet-stream");
    request.send(file);
  });
}

/** Choose a file, or drop it here. */
export function UploadForm({ children }: { children: React.ReactNode }) {
  const router = useRouter();
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [sending, setSending] = useState<Sending | null>(null);
  const [problem, setProblem] = useState<string>();
  const [unsent, setUnsent] = useState<File | null>(null);
  const [over, setOver] = useState(false);

  async function take(file: File | undefined) {
    if (!file || sending) return;
    setProblem(undefined);
    setUnsent(null);
    setSending({ name: file.name, done: 0, total: file.size });
    try {
      const runId = await send(file, (done, total) => setSending({ name: file.name, done, total }));
      router.push(`/bring-in/${runId}`);
    } catch (error) {
      setSending(null);
      setProblem(error instanceof Error ? error.message : lost);
      if (error instanceof Lost) setUnsent(file);
      if (input.current) input.current.value = "";
    }
  }

  function drop(event: DragEvent) {
    event.preventDefault();
    setOver(false);
    void take(event.dataTransfer.files[0]);
  }

  return (
    <section
      aria-label="A file to bring in"
      className={over ? `${styles.drop} ${styles.over}` : styles.drop}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      {sending ? (
        <Progress label={`Sending ${sending.name}`} done={sending.done} total={sending.total}>
          <span role="status">
            {sending.done < sending.total
              ? `Sending “${sending.name}”: ${megabytes(sending.done)} of ${megabytes(sending.total)}`
              : `“${sending.name}” has arrived; looking at it`}
          </span>
        </Progress>
      ) : (
        <>
          <label htmlFor={id} className={styles.dropHead}>
            Drop a file here, or choose one
          </label>
          <input ref={input} id={id} className="vh" type="file" onChange={(event) => void take(event.target.files?.[0])} />
          <Button type="button" look="main" big onClick={() => input.current?.click()}>
            Choose a file
          </Button>
          {children}
        </>
      )}
      <FormWord problem={problem} />
      {unsent && (
        <Button type="button" onClick={() => void take(unsent)}>
          Send “{unsent.name}” again
        </Button>
      )}
    </section>
  );
}
