/** What the four steps of measuring on a photo share: what was answered so far, and the photo. */
import type { OnPhoto } from "../../model/measuring/draft";
import { type Measured, measureOutline } from "../../model/measuring/measure";
import { type PhotoSize } from "../../model/measuring/placing";
import { placedOf } from "../../model/measuring/draft";
import { Refusal } from "../../model/refusal";
import type { Elevation } from "../../model/types";
import type { Pictured } from "../../parts/photo/facts";

export type Choice = { photo: Pictured; small: () => Promise<string | null>; large: () => Promise<string | null> };
export type Desk = {
  asked: OnPhoto; change: (part: Partial<OnPhoto>) => void; elevation: Elevation;
  /** The draft that a new photo goes into; its key is the path of the mark's or the reading's own screen. */
  draftKey: string; about: string; choices: readonly Choice[];
};
/** A photo that this browser shows, with its size in frame pixels. */
export type Shot = { url: string; size: PhotoSize };

export type Outcome<T> = { found: T; code: null } | { found: null; code: string };

/** What a sum gives, or the code of why it cannot be done. */
export function tried<T>(sum: () => T): Outcome<T> {
  try {
    return { found: sum(), code: null };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { found: null, code: error.code };
  }
}

export function measured({ asked, elevation }: Desk, size: PhotoSize): Outcome<Measured | null> {
  return tried(() => {
    const placed = placedOf(asked, elevation, size);
    return placed ? measureOutline(placed, elevation.surface, asked.view, asked.outline) : null;
  });
}
