/** The screens of mixes. */
export { MixView } from "./MixView";
export { MixesView } from "./MixesView";
