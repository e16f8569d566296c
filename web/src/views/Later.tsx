/** Screens that are fetched when first gone to; once fetched they open at once. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Params } from "../parts/frame/route";
import { withWords } from "../words";

export type View = ComponentType<{ params: Params }>;
/** `bring` fetches the screen before anybody goes to it. */
export type LaterView = View & { bring: () => Promise<void> };

/** A screen by its name in a module that is imported on demand. It is one and the same component before and after it has come. */
export function later<N extends string>(load: () => Promise<Record<N, View>>, name: N): LaterView {
  let come: View | null = null;
  const bring = async () => {
    come ??= (await withWords(load()))[name];
  };
  function Later({ params }: { params: Params }) {
    const [Shown, setShown] = useState<View | null>(() => come);
    useEffect(() => {
      if (!Shown) void bring().then(() => setShown(() => come));
    }, []);
    return Shown ? <Shown params={params} /> : <p class="splash" role="status">…</p>;
  }
  return Object.assign(Later, { bring });
}
