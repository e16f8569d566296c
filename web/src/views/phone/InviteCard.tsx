/** A one-time link for another person's device, as a code to point a camera at. */
import { useEffect, useState } from "preact/hooks";
import type { Role } from "../../model/types";
import { type Invite, NotReached, Refused, currentSite, invite } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { refusalWords, t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";

const ROLES: Role[] = ["surveyor", "helper", "reader", "keeper"];
const LINK_DAYS = 14;

/** The code as a picture of its own: pages of this app take no picture from a data address. */
function useCode(svg: string): string {
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  return url;
}

function MadeLink({ made }: { made: Invite }) {
  const [copied, setCopied] = useState(false);
  const code = useCode(made.qr_svg);
  const copy = () => void navigator.clipboard.writeText(made.link).then(() => setCopied(true), () => setCopied(false));
  return (
    <>
      <p>{t("phone_link")}</p>
      <img class="qr" alt="QR" src={code || undefined} />
      <p class="link-text">{made.link}</p>
      <Button onPress={copy}>{t(copied ? "phone_copied" : "phone_copy")}</Button>
    </>
  );
}

export function InviteCard() {
  const [role, setRole] = useState<Role>("surveyor");
  const [made, setMade] = useState<Invite | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const make = async () => {
    setTrouble(null);
    try {
      if (currentSite.value) setMade(await invite(currentSite.value, role));
    } catch (error) {
      if (error instanceof NotReached) setTrouble(t("phone_not_reached"));
      else if (error instanceof Refused) setTrouble(refusalWords(error.code));
      else throw error;
    }
  };
  return (
    <Card title={t("phone_others")}>
      <p>{t("phone_others_say", { n: LINK_DAYS })}</p>
      <Pick legend={t("phone_role")} value={role} onPick={(next) => { setRole(next); setMade(null); }}
        options={ROLES.map((id) => ({ id, label: vocabularyWord("roles", id) }))} />
      <Button onPress={() => void make()}>{t("phone_make_link")}</Button>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {made ? <MadeLink made={made} /> : null}
    </Card>
  );
}
