/** A form that cannot be kept leads the person to the first field that is wrong, beside its sentence. */

const WRONG = '[aria-invalid="true"], [data-wrong]';
const TAKES_FOCUS = "input, select, textarea, button, [tabindex]";

/** Whether a field says that it is wrong; after the screen is drawn anew the first such field is unfolded and takes the focus. */
export async function leadToWrong(): Promise<boolean> {
  await new Promise((drawn) => setTimeout(drawn));
  const asked = document.querySelector("dialog[open]") ?? document;
  const wrong = asked.querySelector<HTMLElement>(WRONG);
  if (!wrong) return false;
  for (let fold = wrong.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) fold.open = true;
  const field = wrong.matches(TAKES_FOCUS) ? wrong : wrong.querySelector<HTMLElement>(TAKES_FOCUS);
  field?.focus();
  (field?.closest(".field, fieldset") ?? wrong).scrollIntoView({ block: "center" });
  return true;
}
