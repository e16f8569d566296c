/** A link that was just made: a code to point a camera at, the link as text, and a way to send it. */
import { useEffect, useState } from "preact/hooks";
import { t } from "../../words";
import { type HandedOut, shareText } from "../waiting/handOut";
import { Button } from "./Button";

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

/** `title` is what the link is sent as; `alt` says what the code opens. */
export function LinkCode({ link, svg, alt, title }: { link: string; svg: string; alt: string; title: string }) {
  const code = useCode(svg);
  const [sent, setSent] = useState<HandedOut | null>(null);
  return (
    <>
      <img class="qr" alt={alt} src={code || undefined} />
      <p class="link-text">{link}</p>
      <Button onPress={() => void shareText(title, link).then(setSent)}>{t("links_send")}</Button>
      <p role="status" class="hint">{sent === "copied" ? t("phone_copied") : sent === "by_hand" ? t("links_by_hand") : ""}</p>
    </>
  );
}
