import { useEffect, useRef, useState } from 'preact/hooks';
import { put, remove, wordsOf } from '../../http/api.ts';

export interface PlanPhoto {
  shown: { src: string; aspect: number } | null;
  words: string | null;
  busy: boolean;
  choose: (file: File) => Promise<void>;
  drop: () => Promise<void>;
}

const LONGEST = 1600;
const MOST_BYTES = 3_000_000;

/** The photo of the tub from above that lies behind the plan, if there is one. */
export function usePhoto(clutch: string, photoAt: string | null, onChanged: () => Promise<void>): PlanPhoto {
  const path = `/api/clutches/${encodeURIComponent(clutch)}/photo`;
  const [shown, setShown] = useState<PlanPhoto['shown']>(null);
  const [words, setWords] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    if (photoAt == null) {
      setShown(null);
      return;
    }
    const image = new Image();
    const src = `${path}?at=${encodeURIComponent(photoAt)}`;
    image.onload = () => setShown({ src, aspect: within(image.naturalWidth / image.naturalHeight) });
    image.onerror = () => setShown(null);
    image.src = src;
  }, [path, photoAt]);
  const run = async (work: () => Promise<unknown>): Promise<void> => {
    setBusy(true);
    setWords(null);
    try {
      await work();
      await onChanged();
    } catch (cause) {
      setWords(cause instanceof PhotoTrouble ? cause.message : wordsOf(cause));
    } finally {
      setBusy(false);
    }
  };
  return {
    shown,
    words,
    busy,
    choose: (file) => run(async () => put(path, await smaller(file))),
    drop: () => run(() => remove(path)),
  };
}

class PhotoTrouble extends Error {}

/** A tub lies neither very long nor very deep in a picture; a strange shape would make the eggs unreadable. */
const within = (aspect: number): number =>
  Number.isFinite(aspect) ? Math.min(2.4, Math.max(0.7, aspect)) : 1.42;

/** Made smaller on the phone: it goes faster, and where and with what it was taken stays here. */
async function smaller(file: File): Promise<Blob> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    throw new PhotoTrouble('This file is not a picture that this browser can read. Choose a JPEG or a PNG.');
  }
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.8));
  if (blob === null || blob.size > MOST_BYTES)
    throw new PhotoTrouble('The picture could not be made small enough. Take it from further away.');
  return blob;
}

export function PhotoButton({ photo }: { photo: PlanPhoto }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <input
        ref={input}
        type="file"
        accept="image/jpeg,image/png"
        class="unseen"
        tabIndex={-1}
        aria-hidden="true"
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file !== undefined) void photo.choose(file);
        }}
      />
      <button type="button" class="quiet" disabled={photo.busy} onClick={() => input.current?.click()}>
        {photo.busy ? 'Sending…' : photo.shown === null ? 'Lay a photo under it' : 'Another photo'}
      </button>
      {photo.shown !== null && (
        <button type="button" class="quiet" disabled={photo.busy} onClick={() => void photo.drop()}>
          Take the photo away
        </button>
      )}
    </>
  );
}
