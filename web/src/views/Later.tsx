/** Screens that are fetched when first gone to; once fetched they open at once. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Params } from "../parts/frame/route";

type View = ComponentType<{ params: Params }>;
export type Screen = { View?: View; load?: () => Promise<View> };

/** A screen by its name in a module that is imported on demand. */
export function later<N extends string>(load: () => Promise<Record<N, View>>, name: N): Screen {
  const screen: Screen = {
    load: async () => {
      screen.View = (await load())[name];
      return screen.View;
    },
  };
  return screen;
}

export function Later({ screen, params }: { screen: Screen; params: Params }) {
  const [View, setView] = useState<View | null>(() => screen.View ?? null);
  useEffect(() => {
    if (!View) void screen.load?.().then((found) => setView(() => found));
  }, [screen]);
  return View ? <View params={params} /> : <p class="splash" role="status">…</p>;
}
