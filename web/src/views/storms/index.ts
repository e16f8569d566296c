/** The screens of storms and surveys. */
export { StormForm } from "./StormForm";
export { StormView } from "./StormView";
export { StormsView } from "./StormsView";
export { SurveyView } from "./SurveyView";
export { LookFirstView } from "./after/LookFirstView";
export { RainView } from "./after/RainView";
export { HoursView } from "./hours/HoursView";
export { StationView } from "./hours/StationView";
