/** The mixes of the catalogue by kind, each with its proportions drawn. */
import { go } from "../../parts/frame/route";
import { Button } from "../../parts/frame/Button";
import { type Mix, type MixKind, mixName } from "../../model/catalogue";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { BasisMark } from "../../parts/ticket/Basis";
import { PartsBar, partsWords } from "../../parts/ticket/PartsBar";
import "./mixes.css";

const KINDS: readonly MixKind[] = ["plaster", "earth", "wash", "grout"];
const TITLES = { plaster: "mixes_plaster", earth: "mixes_earth", wash: "mixes_wash", grout: "mixes_grout" } as const;

function MixRow({ id, mix }: { id: string; mix: Mix }) {
  return (
    <li>
      <Link to={`/mix/${id}`} class="mix-row">
        <strong>{mixName(mix, language())} <BasisMark basis={mix.basis} /></strong>
        <PartsBar mix={mix} slim />
        <small class="block" aria-hidden="true">{partsWords(mix)}</small>
        <span class="block">{mix.words[language()].use}</span>
      </Link>
    </li>
  );
}

export function MixesView() {
  const mixes = Object.entries(catalogue.value?.mixes ?? {});
  return (
    <Page title={t("place_mixes")} sub={t("mixes_sub")} place="mixes">
      {mixes.length === 0 ? <Empty scene="mixes" action={<Button onPress={() => go("/phone")}>{t("phone_title")}</Button>}>{t("mixes_none")}</Empty> : null}
      <div class="mix-kinds">
        {KINDS.map((kind) => {
          const here = mixes.filter(([, mix]) => mix.kind === kind);
          return here.length > 0 ? <Card key={kind} title={t(TITLES[kind])} aside={here.length}><ul class="rows">{here.map(([id, mix]) => <MixRow key={id} id={id} mix={mix} />)}</ul></Card> : null;
        })}
      </div>
    </Page>
  );
}
