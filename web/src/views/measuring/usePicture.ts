/** The small copy of a photo on which an outline is looked for; made once for each photo. */
import { useEffect, useState } from "preact/hooks";
import { SUGGEST_PX } from "../../model/measuring/suggest";
import { type Pixels, pixelsAt } from "../../parts/drawing/warp";

/** Null while it is being made, "none" where this browser cannot. */
export function usePicture(url: string): Pixels | "none" | null {
  const [made, setMade] = useState<{ url: string; as: Pixels | "none" } | null>(null);
  useEffect(() => {
    let wanted = true;
    const say = (as: Pixels | "none") => {
      if (wanted) setMade({ url, as });
    };
    pixelsAt(url, SUGGEST_PX).then(say, () => say("none"));
    return () => {
      wanted = false;
    };
  }, [url]);
  return made?.url === url ? made.as : null;
}
