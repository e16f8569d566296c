/** The photo behind the drawing: fetched, pulled straight, shown as strongly as one likes. */
import { useEffect, useId, useState } from "preact/hooks";
import type { Box } from "../../model/drawing/plan";
import type { Backdrop } from "../../model/types";
import { photoUrl, row } from "../../store";
import { t } from "../../words";
import { pullStraight } from "./warp";

export type Laid = { url: string; box: Box };

const MOST_KEPT = 4;
const kept = new Map<string, string>();

function keep(key: string, url: string): void {
  kept.set(key, url);
  const [oldest] = kept.keys();
  if (kept.size <= MOST_KEPT || oldest === undefined) return;
  URL.revokeObjectURL(kept.get(oldest) as string);
  kept.delete(oldest);
}

/** A picture to be pulled straight: where to get it, and how wide the photo was on which the homography was set (null: as it comes). */
export type Source = { key: string; homography: readonly number[]; find: () => Promise<{ url: string; width_px: number | null } | null> };

/** The picture straightened onto `box`, or null while it is being made, or where it cannot be had now. */
export function useStraight(source: Source | null, box: Box): Laid | null {
  const key = source ? JSON.stringify([source.key, source.homography, box]) : "";
  const [made, setMade] = useState<{ key: string; url: string } | null>(null);
  useEffect(() => {
    if (!source || kept.has(key)) return;
    let gone = false;
    const make = async () => {
      const photo = await source.find();
      // The drawing stands without its photo: one that cannot be fetched or shown just now is left out.
      const straight = photo ? await pullStraight(photo.url, photo.width_px, source.homography, box, () => gone).catch(() => null) : null;
      if (!straight) return;
      keep(key, straight);
      if (!gone) setMade({ key, url: straight });
    };
    void make();
    return () => {
      gone = true;
    };
  }, [key]);
  const url = kept.get(key) ?? (made?.key === key ? made.url : null);
  return source && url ? { url, box } : null;
}

/** The source of a kept backdrop; null until its photo's row is there. */
export function sourceOf(backdrop: Backdrop | null): Source | null {
  const photo = row("photo", backdrop?.photo_id);
  if (!backdrop || !photo) return null;
  const find = async () => {
    const url = await photoUrl(photo.id, "1600");
    return url ? { url, width_px: photo.width_px } : null;
  };
  return { key: `${photo.id} ${photo.stored}`, homography: backdrop.homography, find };
}

export function BackdropImage({ laid, opacity }: { laid: Laid; opacity: number }) {
  const { x0, y0, x1, y1 } = laid.box;
  return <image href={laid.url} x={x0} y={-y1} width={x1 - x0} height={y1 - y0} opacity={opacity} preserveAspectRatio="none" aria-hidden="true" />;
}

/** How strongly the photo shows, in ten steps. */
export function OpacityRow({ opacity, onChange }: { opacity: number; onChange: (opacity: number) => void }) {
  const id = useId();
  return (
    <p class="wall-opacity">
      <label for={id}>{t("drawing_opacity")}</label>
      <input id={id} type="range" min="0" max="1" step="0.1" value={opacity} onInput={(event) => onChange(Number(event.currentTarget.value))} />
    </p>
  );
}
