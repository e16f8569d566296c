/** Texts that leave the phone: as a file made here, shared, or copied. */

/** Hand a text to the browser as a download. */
export function saveFile(name: string, text: string, type: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers begin to read only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A title as a file name that every system takes. */
export function fileName(title: string, ending: string): string {
  const plain = title.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const name = plain.replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "") || "makegood";
  return `${name}.${ending}`;
}

export type HandedOut = "shared" | "copied" | "left" | "by_hand";

/** Share a text, or copy it where nothing can share; "by_hand" where neither works, "left" where the person thought better of it. */
export async function shareText(title: string, text: string): Promise<HandedOut> {
  if (typeof navigator.share === "function") {
    try {
      await navigator.share({ title, text });
      return "shared";
    } catch (error) {
      if (error instanceof DOMException && error.name === "AbortError") return "left";
    }
  }
  try {
    await navigator.clipboard.writeText(text);
    return "copied";
  } catch {
    return "by_hand";
  }
}
