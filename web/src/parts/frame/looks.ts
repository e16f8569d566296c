/** How this phone is looked at and held: bright sun, which hand. The styles read it at the root of the page. */
import { computed, effect, signal } from "@preact/signals";
import { settings } from "../../store";

const asked = matchMedia("(prefers-contrast: more)");
const moreContrast = signal(asked.matches);
asked.addEventListener("change", () => (moreContrast.value = asked.matches));

const wide = matchMedia("(min-width: 75rem)");
/** Whether a list fits beside what was opened from it. */
export const roomy = signal(wide.matches);
wide.addEventListener("change", () => (roomy.value = wide.matches));

/** What somebody chose on this phone, else what its system asks for. */
export const glare = computed(() => settings.value.glare ?? moreContrast.value);

/** The ground of the page, for the frame that the system draws round it. */
const GROUND = { plain: "#f8f5ee", glare: "#ffffff" };
const ICON = { plain: "/icon.svg", glare: "/icon-glare.svg" };

/** Keep the page's root, the system's frame and the icon as the settings say. */
export function wearLooks(): void {
  effect(() => {
    const look = glare.value ? "glare" : "plain";
    const root = document.documentElement;
    root.toggleAttribute("data-glare", glare.value);
    root.dataset.hand = settings.value.leftHanded ? "left" : "right";
    document.querySelector('meta[name="theme-color"]')?.setAttribute("content", GROUND[look]);
    document.querySelector('link[rel="icon"]')?.setAttribute("href", ICON[look]);
  });
}
