/** The screens of measuring on a photo. */
export { MarkPhotoView } from "./MarkPhotoView";
export { ReadingPhotoView } from "./ReadingPhotoView";
