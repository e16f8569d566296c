/** The screens of defects. */
export { DefectView } from "./DefectView";
export { MarkView } from "./MarkView";
export { ReadingView } from "./ReadingView";
