/** The way in: by the keeper's link, or straight into the demo. */
import { useEffect, useState } from "preact/hooks";
import { type LinkPromise, NotReached, Refused, enrol, lookAtLink, serverFacts } from "../../store";
import { Button } from "../../parts/frame/Button";
import { TextField } from "../../parts/frame/Field";
import { go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { refusalWords, t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { useAsking } from "./asking";
import "./phone.css";

/** The secret behind the # of a link; null when the text holds none. */
function tokenIn(text: string): string | null {
  return /#([\w-]{16,})$/.exec(text.trim())?.[1] ?? null;
}

function deviceName(): string {
  return matchMedia("(pointer: coarse)").matches ? t("join_phone") : t("join_computer");
}

/** Join, and say in words why not. */
function useJoin() {
  const [trouble, setTrouble] = useState<string | null>(null);
  const [asking, setAsking] = useState(false);
  const join = async (how: string | { demo: true }, person: string, device: string) => {
    setAsking(true);
    setTrouble(null);
    try {
      await enrol(how, person, device);
      go("/", true);
    } catch (error) {
      if (error instanceof NotReached) setTrouble(t("join_not_reached"));
      else if (error instanceof Refused) setTrouble(refusalWords(error.code));
      else throw error;
    } finally {
      setAsking(false);
    }
  };
  return { join, trouble, asking };
}

/** What the link grants, before it is used. */
function Offer({ token }: { token: string }) {
  const [offer, setOffer] = useState<LinkPromise | null>(null);
  const { ask, trouble } = useAsking();
  useEffect(() => void ask(async () => setOffer(await lookAtLink(token))), [token]);
  if (trouble) return <p class="wrong" role="status">{trouble}</p>;
  if (!offer) return null;
  const role = vocabularyWord("roles", offer.role);
  const site = offer.site_name ?? "Makegood";
  const who = offer.invited_by ? t("join_offer", { by: offer.invited_by, site, role }) : t("join_offer_server", { site, role });
  return (
    <div class="card">
      <p>{offer.role ? who : t("join_offer_first")}</p>
      {offer.tickets !== null ? <p>{t("join_offer_list", { n: offer.tickets })}</p> : null}
      {offer.role ? <p>{t(offer.tickets !== null ? "may_list" : `may_${offer.role}`)}</p> : null}
      <p class="hint">{t("join_offer_until", { date: showDate(offer.expires_at) })}</p>
    </div>
  );
}

function LinkForm({ token }: { token: string | null }) {
  const [link, setLink] = useState("");
  const [person, setPerson] = useState("");
  const [device, setDevice] = useState(deviceName);
  const [wrong, setWrong] = useState<{ link?: string; person?: string }>({});
  const { join, trouble, asking } = useJoin();
  const submit = (event: Event) => {
    event.preventDefault();
    const secret = token ?? tokenIn(link);
    const found = { ...(secret ? {} : { link: t("join_link_wrong") }), ...(person.trim() ? {} : { person: t("join_name_wrong") }) };
    setWrong(found);
    void leadToWrong();
    if (secret && person.trim()) void join(secret, person.trim(), device.trim() || deviceName());
  };
  return (
    <form onSubmit={submit} noValidate>
      <p>{token ? t("join_link_ready") : t("join_have_link")}</p>
      {token ? <Offer token={token} /> : null}
      {token ? null : <TextField label={t("join_link_label")} value={link} onInput={setLink} wrong={wrong.link} />}
      <TextField label={t("join_name")} value={person} onInput={setPerson} max={120} wrong={wrong.person} />
      <TextField label={t("join_device")} value={device} onInput={setDevice} max={120} />
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      <Button kind="primary" submit disabled={asking}>{asking ? t("join_wait") : t("join_go")}</Button>
    </form>
  );
}

function DemoDoor() {
  const { join, trouble, asking } = useJoin();
  return (
    <div class="demo-door">
      <Button kind="primary" disabled={asking} onPress={() => void join({ demo: true }, "Robin", deviceName())}>
        {asking ? t("join_wait") : t("join_demo")}
      </Button>
      <p class="hint">{t("join_demo_hint")}</p>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
    </div>
  );
}

export function EnrolView() {
  const token = tokenIn(location.href);
  useEffect(() => {
    document.title = "Makegood";
  }, []);
  return (
    <main class="enrol" id="main">
      <img src="/icon.svg" alt="" width="96" height="96" />
      <h1>{t("join_title")}</h1>
      <p>{t("join_lead")}</p>
      {serverFacts.value?.demo && !token ? <DemoDoor /> : <LinkForm token={token} />}
      <p class="hint">{t("join_install_first")}</p>
    </main>
  );
}
