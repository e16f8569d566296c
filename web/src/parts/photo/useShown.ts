/** A photo as this browser shows it: its address, and how many pixels it has there. */
import { useEffect, useState } from "preact/hooks";

export type Shown = { url: string; size: { width_px: number; height_px: number } };

/** Null while it is being looked for, "none" where it cannot be had or this browser cannot show it. `key` names the photo. */
export function useShown(key: string | null, find: () => Promise<string | null>): Shown | "none" | null {
  const [shown, setShown] = useState<{ key: string; as: Shown | "none" } | null>(null);
  useEffect(() => {
    if (key === null) return;
    let wanted = true;
    const say = (as: Shown | "none") => {
      if (wanted) setShown({ key, as });
    };
    const load = async () => {
      const url = await find();
      const image = new Image();
      image.onload = () => say({ url: image.src, size: { width_px: image.naturalWidth, height_px: image.naturalHeight } });
      image.onerror = () => say("none");
      if (url) image.src = url;
      else say("none");
    };
    void load();
    return () => {
      wanted = false;
    };
  }, [key]);
  return key !== null && shown?.key === key ? shown.as : null;
}
