/** The screens of storms and surveys. */
export { StormForm } from "./StormForm";
export { StormView } from "./StormView";
export { StormsView } from "./StormsView";
export { SurveyView } from "./SurveyView";
