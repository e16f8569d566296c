/** The frame of every screen: heading on top, the matter in the middle, deeds and the four places at the thumb. */
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { t } from "../../words";
import { Button } from "./Button";
import { Link } from "./Link";
import { SyncBadge } from "./SyncBadge";
import { goBack, path } from "./route";

export type Place = "walls" | "tickets" | "storms" | "mixes" | null;

type Props = {
  title: string;
  sub?: ComponentChildren;
  place: Place;
  back?: string;
  actions?: ComponentChildren;
  children: ComponentChildren;
  /** Two columns on wide screens: the first child stays in view beside the second. */
  wide?: boolean;
};

const PLACES = ["walls", "tickets", "storms", "mixes"] as const;

function Places({ place }: { place: Place }) {
  return (
    <nav class="places" aria-label={t("places")}>
      {PLACES.map((id) => (
        <Link key={id} to={`/${id}`} current={place === id}>{t(`place_${id}`)}</Link>
      ))}
    </nav>
  );
}

function SearchLink() {
  return (
    <Link to="/search" class="btn btn-plain search-link" label={t("search")} current={path.value.split("?")[0] === "/search"}>
      <svg viewBox="0 0 24 24" width="26" height="26" aria-hidden="true"><path d="M10.5 4a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13zM15.5 15.5L21 21" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" /></svg>
    </Link>
  );
}

/** Letters of a name, beside the way back or without it, and of what is below it, that stand beside search and badge on a narrow screen. */
const SHORT = { below: 11, first: 14, sub: 20 };

function needsOwnRow({ title, sub, back }: Props): boolean {
  const shortSub = !sub || (typeof sub === "string" && sub.length <= SHORT.sub);
  return title.length > (back ? SHORT.below : SHORT.first) || !shortSub;
}

/** After a move the heading takes the focus, so that a screen reader says where one is. */
function useHeadingFocus() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus({ preventScroll: true }), [path.value.split("?")[0]]);
  return heading;
}

export function Page(props: Props) {
  const { title, sub, place, back, actions, children, wide } = props;
  const heading = useHeadingFocus();
  useEffect(() => {
    document.title = `${title} · Makegood`;
  }, [title]);
  return (
    <div class="page">
      <div class="page-body">
        <header class={needsOwnRow(props) ? "page-head tall-head" : "page-head"}>
          {back ? <Button kind="plain" label={t("back")} onPress={() => goBack(back)}><span aria-hidden="true">←</span></Button> : null}
          <div class="page-title">
            <h1 ref={heading} tabIndex={-1}>{title}</h1>
            {sub ? <p class="sub">{sub}</p> : null}
          </div>
          <SearchLink />
          <SyncBadge />
        </header>
        <main id="main" class={wide ? "page-main wide" : "page-main"} tabIndex={-1}>{children}</main>
      </div>
      {actions ? <div class="page-actions">{actions}</div> : null}
      <Places place={place} />
    </div>
  );
}
