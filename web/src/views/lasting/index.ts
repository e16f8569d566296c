/** The screens of finishes, sample panels, what lasted and the next season. */
export { FinishView } from "./FinishView";
export { HereView } from "./HereView";
export { LastedView } from "./LastedView";
export { ScoreForm } from "./ScoreForm";
export { SeasonView } from "./SeasonView";
