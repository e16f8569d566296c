/** One-time links for other people's devices, as codes to point a camera at; and taking back those not used yet. */
import { useEffect, useState } from "preact/hooks";
import type { Role } from "../../model/types";
import { type Invite, type OpenLink, currentSite, invite, openLinks, takeBackLink } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { LinkCode } from "../../parts/frame/LinkCode";
import { SureButton } from "../../parts/frame/SureButton";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { useAsking } from "./asking";

const ROLES: Role[] = ["surveyor", "helper", "reader", "keeper"];
const COUNTS = ["1", "2", "5", "10"];
const LINK_DAYS = 14;

function linkWords(link: OpenLink): string {
  const person = link.made_by ?? t("links_server");
  const date = showDate(link.expires_at);
  return link.handout_id ? t("links_row_list", { person, date }) : t("links_row", { role: vocabularyWord("roles", link.role), person, date });
}

function OpenLinks({ site, fresh, onGone }: { site: string; fresh: number; onGone: () => void }) {
  const [links, setLinks] = useState<OpenLink[] | null>(null);
  const { ask, trouble } = useAsking();
  const load = async () => setLinks(await openLinks(site));
  useEffect(() => void ask(load), [site, fresh]);
  const takeBack = (link: OpenLink) => ask(async () => {
    await takeBackLink(site, link.id);
    onGone();
    await load();
  });
  return (
    <>
      <h3>{t("links_title")}</h3>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {links?.length === 0 ? <Empty small scene="people">{t("links_none")}</Empty> : null}
      <ul class="rows people">
        {links?.map((link) => (
          <li key={link.id}>
            <p>{linkWords(link)}</p>
            <SureButton label={t("links_back")} name={`${t("links_back")}: ${linkWords(link)}`} title={t("links_back_ask")} say={t("links_back_say")} yes={t("links_back")} onYes={() => takeBack(link)} />
          </li>
        ))}
      </ul>
    </>
  );
}

export function InviteCard() {
  const [role, setRole] = useState<Role>("surveyor");
  const [count, setCount] = useState("1");
  const [made, setMade] = useState<Invite[]>([]);
  const [fresh, setFresh] = useState(0);
  const { ask, trouble, asking } = useAsking();
  const site = currentSite.value;
  if (!site) return null;
  const make = () => ask(async () => {
    setMade([]);
    for (let n = 0; n < Number(count); n += 1) {
      const one = await invite(site, role);
      setMade((before) => [...before, one]);
    }
  }).finally(() => setFresh((before) => before + 1));
  const change = (deed: () => void) => { deed(); setMade([]); };
  return (
    <Card title={t("phone_others")}>
      <p>{t("phone_others_say", { n: LINK_DAYS })}</p>
      <Pick legend={t("phone_role")} value={role} onPick={(next) => change(() => setRole(next))}
        options={ROLES.map((id) => ({ id, label: vocabularyWord("roles", id) }))} />
      <p class="hint" role="status">{t(`may_${role}`)}</p>
      <Pick legend={t("links_count")} value={count} onPick={(next) => change(() => setCount(next))} options={COUNTS.map((id) => ({ id, label: id }))} />
      <Button disabled={asking} onPress={() => void make()}>{t("phone_make_link")}</Button>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {made.length > 0 ? <p>{t("links_made", { n: made.length })}. {t("phone_link")}</p> : null}
      <ul class="rows people">{made.map((one) => (
        <li key={one.token}><LinkCode link={one.link} svg={one.qr_svg} alt={t("links_code", { role: vocabularyWord("roles", role) })} title="Makegood" /></li>
      ))}</ul>
      <OpenLinks site={site} fresh={fresh} onGone={() => setMade([])} />
    </Card>
  );
}
