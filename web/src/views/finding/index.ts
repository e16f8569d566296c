/** The screens for finding things: search, what changed, what was deleted. */
export { ChangesView } from "./ChangesView";
export { DeletedView } from "./DeletedView";
export { SearchView } from "./SearchView";
