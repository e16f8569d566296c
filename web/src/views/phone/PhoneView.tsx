/** This phone: what is saved where, what the server did not take, language and measures, letting others in, leaving. */
import { useState } from "preact/hooks";
import { Refused, leave, me, parked, role, serverFacts, setSettings, settings, syncNow, syncState } from "../../store";
import { Ask } from "../../parts/frame/Ask";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Pick, Toggle, languageTiles } from "../../parts/frame/Field";
import { openClashes } from "../../parts/clashes";
import { Link } from "../../parts/frame/Link";
import { glare } from "../../parts/frame/looks";
import { Page } from "../../parts/frame/Page";
import { go } from "../../parts/frame/route";
import { t } from "../../words";
import { showBytes, showDate, showTime } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { BundleCard } from "./BundleCard";
import { ClashList } from "./ClashList";
import { DevicesCard } from "./DevicesCard";
import { InviteCard } from "./InviteCard";
import { OriginalsCard } from "./OriginalsCard";
import { ParkedCard } from "./ParkedCard";
import { PhotosRefused } from "./PhotosRefused";
import "./phone.css";

function sendingWords(): string[] {
  const s = syncState.value;
  const lines: string[] = [];
  if (s.waiting) lines.push(t("phone_waiting", { n: s.waiting }));
  if (s.photosWaiting) lines.push(t("phone_photos_waiting", { n: s.photosWaiting }));
  if (s.originalsHeld) lines.push(t("phone_originals_held", { n: s.originalsHeld }));
  if (s.photosRefused) lines.push(t("phone_photos_refused", { n: s.photosRefused }));
  if (lines.length === 0 && s.parked === 0 && s.lastSentAt) lines.push(t("phone_nothing_waiting"));
  lines.push(s.lastSentAt ? t("phone_last_sent", { date: showDate(s.lastSentAt), time: showTime(s.lastSentAt) }) : t("phone_never_sent"));
  if (s.busy) lines.push(t("phone_busy"));
  else if (s.reaching === "not_reached") lines.push(t("phone_not_reached"));
  else if (s.reaching === "reached") lines.push(t("phone_reached"));
  return lines;
}

function SavedCard() {
  const s = syncState.value;
  return (
    <Card title={t("phone_saved")}>
      <p>{t("phone_saved_say")}</p>
      <div role="status">{sendingWords().map((line) => <p key={line}>{line}</p>)}</div>
      {s.signedOut ? <p class="wrong">{t("phone_signed_out")}</p> : null}
      {s.persisted === null ? null : <p class="hint">{t(s.persisted ? "phone_persisted" : "phone_not_persisted")}</p>}
      {s.quota ? <p class="hint">{t("phone_room", { used: showBytes(s.quota.used), of: showBytes(s.quota.of) })}</p> : null}
    </Card>
  );
}

/** How the screens look in the sun and where the thumb reaches; first on the page, since whoever needs it sees little. */
function LooksCard() {
  return (
    <Card>
      <Toggle label={t("phone_glare")} hint={t("phone_glare_say")} on={glare.value} onChange={(on) => setSettings({ glare: on })} />
      <Pick legend={t("phone_hand")} value={settings.value.leftHanded ? "left" : "right"} onPick={(hand) => void setSettings({ leftHanded: hand === "left" })}
        options={[{ id: "left", label: t("phone_hand_left") }, { id: "right", label: t("phone_hand_right") }]} />
    </Card>
  );
}

function ChoicesCard() {
  const s = settings.value;
  return (
    <Card>
      <Pick legend={t("phone_language")} value={s.language} onPick={(language) => void setSettings({ language })}
        options={languageTiles()} />
      <Pick legend={t("phone_measures")} value={s.measures} onPick={(measures) => void setSettings({ measures })}
        options={[{ id: "metric", label: t("phone_metric") }, { id: "us", label: t("phone_us") }]} />
    </Card>
  );
}

function InstallCard() {
  if (matchMedia("(display-mode: standalone)").matches) return <Card title={t("phone_install")}><p>{t("phone_installed")}</p></Card>;
  return (
    <Card title={t("phone_install")}>
      <p>{t("phone_install_say")}</p>
      <ul>
        <li>{t("phone_install_iphone")}</li>
        <li>{t("phone_install_android")}</li>
        <li>{t("phone_install_computer")}</li>
      </ul>
    </Card>
  );
}

function LeaveDeed() {
  const [asking, setAsking] = useState<"no" | "ask" | "unsent">("no");
  const doLeave = async (evenUnsent: boolean) => {
    try {
      await leave(evenUnsent);
      go("/walls", true);
    } catch (error) {
      if (error instanceof Refused && error.code === "unsent_work") setAsking("unsent");
      else throw error;
    }
  };
  return (
    <>
      <Button kind="warning" onPress={() => setAsking("ask")}>{t("phone_leave")}</Button>
      {asking === "no" ? null : (
        <Ask title={t("phone_leave_ask")} onClose={() => setAsking("no")}>
          <p>{t(asking === "unsent" ? "phone_leave_unsent" : "phone_leave_say")}</p>
          <div class="deeds">
            <Button onPress={() => setAsking("no")}>{t("cancel")}</Button>
            <Button kind="warning" onPress={() => void doLeave(asking === "unsent")}>{t(asking === "unsent" ? "phone_leave_anyway" : "phone_leave")}</Button>
          </div>
        </Ask>
      )}
    </>
  );
}

export function PhoneView() {
  const mine = me.value;
  const who = mine ? t("phone_me", { person: mine.person, role: vocabularyWord("roles", role.value) }) : undefined;
  return (
    <Page title={t("phone_title")} sub={who} place={null} back="/walls"
      actions={<Button kind="primary" onPress={() => void syncNow()} disabled={syncState.value.busy}>{t("phone_send_now")}</Button>}>
      <div class="phone-cards">
        <SavedCard />
        <LooksCard />
        {parked.value.length + openClashes().length === 0 ? <Card><Empty small scene="answers">{t("phone_needs_nothing")}</Empty></Card> : null}
        {parked.value.length > 0 ? <ParkedCard /> : null}
        {openClashes().length > 0 ? <ClashList /> : null}
        {syncState.value.photosRefused > 0 ? <PhotosRefused /> : null}
        <BundleCard />
        <OriginalsCard />
        <p><Link class="plain-link" to="/deleted">{t("deleted_title")}</Link></p>
        <ChoicesCard />
        <InstallCard />
        {role.value === "keeper" ? <><InviteCard /><DevicesCard /></> : null}
      </div>
      <p class="hint">{t("phone_version", { version: serverFacts.value?.version ?? "?" })}</p>
      <LeaveDeed />
    </Page>
  );
}
