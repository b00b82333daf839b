"use client";

import { type ChangeEvent, useEffect, useState } from "react";
import { Button } from "@/app/_ui/button";
import { Field, TextField } from "@/app/_ui/field";
import styles from "../_parts/inspect.module.css";
import type { KeptPhoto } from "../_parts/kept-inspections";

/** The most photos that wait on a phone with one inspection. */
const mostPhotos = 6;

/** Photos that go with the inspection once it is recorded. */
export function PhotoFields({ photos, change }: { photos: readonly KeptPhoto[]; change: (photos: readonly KeptPhoto[]) => void }) {
  const add = ({ target }: ChangeEvent<HTMLInputElement>) => {
    const added = [...(target.files ?? [])].map((file) => ({ file, name: file.name, note: "", problem: null }));
    change([...photos, ...added].slice(0, mostPhotos));
    target.value = "";
  };
  return (
    <div>
      <Field id="photos" label="Photos" hint={`At most ${mostPhotos}. A photo is kept without its place, time and camera.`}>
        <input id="photos" type="file" accept="image/jpeg,image/png,image/webp" multiple aria-describedby="photos-hint" onChange={add} />
      </Field>
      <ul className={styles.photos}>
        {photos.map((photo, place) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two photos of a phone may have one name
          <li key={`${photo.name} ${place}`}>
            <Shown photo={photo} />
            <TextField
              label={`What ${photo.name} shows`}
              value={photo.note}
              maxLength={500}
              onChange={(event) => change(photos.map((one) => (one === photo ? { ...one, note: event.target.value } : one)))}
            />
            <Button type="button" look="quiet" onClick={() => change(photos.filter((one) => one !== photo))}>
              Take it off
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Shown({ photo: { file, name, note } }: { photo: KeptPhoto }) {
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const made = URL.createObjectURL(file);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  // biome-ignore lint/performance/noImgElement: the photo is on this phone only.
  return address && <img src={address} alt={note || name} />;
}
