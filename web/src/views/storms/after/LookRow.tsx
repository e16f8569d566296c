/** One side on the walking list: its place, its reasons, the way to its drawing, and the tick for looked at all over. */
import { useState } from "preact/hooks";
import type { Reason } from "../../../model/storm/look_first";
import type { Storm } from "../../../model/types";
import { Refused } from "../../../store";
import { Toggle } from "../../../parts/frame/Field";
import { ignoreStoreTrouble } from "../../../parts/draft";
import { Link } from "../../../parts/frame/Link";
import { refusalWords, t } from "../../../words";
import { type Walk, doseWords, facesWords } from "./doses";
import { tick } from "./walking";

const reasonWords = ({ id, n }: Reason): string => t(`first_reason_${id}`, { n });

type Props = { storm: Storm; walk: Walk; place: number; looked: boolean; mayTick: boolean };

export function LookRow({ storm, walk: { side, ranked }, place, looked, mayTick }: Props) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const change = (on: boolean) => {
    setTrouble(null);
    return tick(storm, ranked.id, on).catch((error: unknown) => (error instanceof Refused ? setTrouble(refusalWords(error.code)) : ignoreStoreTrouble(error)));
  };
  return (
    <li class={looked ? "card first-row looked" : "card first-row"} aria-label={side.name}>
      <Link to={`/elevation/${ranked.id}`} class="row-link">
        <span class="first-place" aria-hidden="true">{place}</span>
        <span class="grow">
          <b>{side.name}</b>
          <small class="under">{t("first_faces", { point: facesWords(side.elevation), dose: doseWords(side.dose) })}</small>
        </span>
        <span aria-hidden="true">›</span>
      </Link>
      {ranked.reasons.length ? <ul class="first-reasons">{ranked.reasons.map((reason) => <li key={reason.id}>{reasonWords(reason)}</li>)}</ul> : null}
      {mayTick ? <Toggle label={t("first_looked")} on={looked} onChange={change} /> : null}
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
    </li>
  );
}
