/** The screens that set up a site and its walls; fetched when first gone to. */
export { ElevationForm } from "./ElevationForm";
export { FinishForm } from "./FinishForm";
export { FirstWallForm } from "./start/FirstWallForm";
export { SiteForm } from "./SiteForm";
export { StructureForm } from "./StructureForm";
export { UnderlayView } from "./UnderlayView";
