/** Screens that are fetched when first gone to; once fetched they open at once. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Params } from "../parts/frame/route";

export type View = ComponentType<{ params: Params }>;

/** A screen by its name in a module that is imported on demand. It is one and the same component before and after it has come. */
export function later<N extends string>(load: () => Promise<Record<N, View>>, name: N): View {
  let come: View | null = null;
  return function Later({ params }) {
    const [Shown, setShown] = useState<View | null>(() => come);
    useEffect(() => {
      if (Shown) return;
      void load().then((found) => {
        come = found[name];
        setShown(() => come);
      });
    }, []);
    return Shown ? <Shown params={params} /> : <p class="splash" role="status">…</p>;
  };
}
