/** A link as a code to point a camera at, and as text. */
import { useEffect, useState } from "preact/hooks";

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

export function LinkCode({ link, svg, alt }: { link: string; svg: string; alt: string }) {
  const code = useCode(svg);
  return (
    <>
      <img class="qr" alt={alt} src={code || undefined} />
      <p class="link-text">{link}</p>
    </>
  );
}
