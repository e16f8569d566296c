/** Search across everything of this site that is on this phone: what is found stands in groups, the words that matched are marked. */
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type Asked, type Found, askedFor, becauseOf, find, marked } from "../../model/finding/search";
import { isUs } from "../../words/measures";
import { language, t } from "../../words";
import { whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import type { Params } from "../../parts/frame/route";
import { GROUPS, type Group, type Hit, index, siteWords } from "./entries";
import { GroupDrawing } from "./GroupDrawing";
import { MoreLinks } from "./MoreLinks";
import { short } from "./rowWords";
import "./finding.css";

const FIRST = 5;
/** More rows than these are found sooner by another word than by the eye. */
const MOST = 100;

function Marked({ text, asked }: { text: string; asked: Asked }) {
  return <>{marked(text, asked).map((piece, i) => (piece.hit ? <mark key={i}>{piece.text}</mark> : piece.text))}</>;
}

function HitRow({ hit, asked }: { hit: Hit; asked: Asked }) {
  const because = becauseOf(hit, asked);
  return (
    <li>
      <Link to={hit.to} class="row-link">
        <span class="find-drawing"><GroupDrawing group={hit.group} kind={hit.kind ?? null} /></span>
        <span class="grow">
          <strong><Marked text={short(hit.name)} asked={asked} /></strong>
          {hit.below ? <small class="block"><Marked text={hit.below} asked={asked} /></small> : null}
          {because && !hit.below.includes(because) ? <small class="block find-because">“<Marked text={short(because)} asked={asked} />”</small> : null}
        </span>
        <span aria-hidden="true">›</span>
      </Link>
    </li>
  );
}

function GroupCard({ group, found, asked }: { group: Group; found: readonly Found<Hit>[]; asked: Asked }) {
  const [all, setAll] = useState(false);
  const shown = found.slice(0, all ? MOST : FIRST);
  const left = Math.min(found.length, MOST) - shown.length;
  return (
    <Card title={t(`find_group_${group}`)} aside={String(found.length)}>
      <ul class="rows">{shown.map(({ entry }) => <HitRow key={entry.id} hit={entry} asked={asked} />)}</ul>
      {left > 0 ? <div class="deeds"><Button onPress={() => setAll(true)} label={`${t("find_all", { n: found.length })}: ${t(`find_group_${group}`)}`}>{t("find_all", { n: found.length })}</Button></div> : null}
      {all && found.length > MOST ? <p class="hint">{t("find_more_words", { n: MOST })}</p> : null}
    </Card>
  );
}

function Nothing({ typed, onPick }: { typed: string; onPick: (word: string) => void }) {
  const words = siteWords.value;
  return (
    <>
      {typed ? <p>{t("find_none", { typed })}</p> : <p>{t("find_lead")}</p>}
      {words.length ? (
        <Card title={t("find_try")}>
          <div class="deeds find-words">{words.map((word) => <Button key={word} onPress={() => onPick(word)}>{word}</Button>)}</div>
        </Card>
      ) : null}
      <p class="hint">{t("find_how")}</p>
      <MoreLinks />
    </>
  );
}

/** What was asked stays in the address, so that the way back from a hit leads to what was found. */
function useAsked(params: Params) {
  const [typed, setTyped] = useState(params.q ?? "");
  const write = () => {
    const to = typed ? `/search?q=${encodeURIComponent(typed)}` : "/search";
    // Not by `go`: the screen is the same one, and the box keeps the focus.
    if (location.pathname === "/search" && location.pathname + location.search !== to) history.replaceState(null, "", to);
  };
  // Some browsers refuse an address that changes with every key.
  useEffect(() => {
    const wait = setTimeout(write, 300);
    return () => clearTimeout(wait);
  }, [typed]);
  return [typed, setTyped, write] as const;
}

export function SearchView({ params }: { params: Params }) {
  const [typed, setTyped, write] = useAsked(params);
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => box.current?.focus(), []);
  const asked = useMemo(() => askedFor(typed, isUs() && language() === "en"), [typed, language(), isUs()]);
  const found = useMemo(() => find(index.value, asked), [index.value, asked]);
  const groups = GROUPS.map((group) => [group, found.filter((one) => one.entry.group === group)] as const).filter(([, own]) => own.length);
  const said = typed.trim() === "" ? "" : t("find_count", { n: found.length });
  return (
    <Page title={t("search")} place={null} back="/walls">
      <div class="find-box">
        <label for="find-typed" class="unseen">{t("find_label")}</label>
        <input ref={box} id="find-typed" type="search" autocomplete="off" autocapitalize="off" enterkeyhint="search" placeholder={t("find_label")} value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        {typed ? <Button label={t("find_clear")} onPress={() => { setTyped(""); box.current?.focus(); }}><span aria-hidden="true">×</span></Button> : null}
      </div>
      <p class={said ? "find-count" : "unseen"} role="status">{whole.value ? said : t("loading")}</p>
      <div onClickCapture={write}>{groups.map(([group, own]) => <GroupCard key={group} group={group} found={own} asked={asked} />)}</div>
      {groups.length === 0 ? <Nothing typed={typed.trim()} onPick={setTyped} /> : null}
    </Page>
  );
}
