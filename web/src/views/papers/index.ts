/** The papers. */
export { PapersView } from "./PapersView";
