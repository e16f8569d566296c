/** Work days, hand-outs, and the list a helper opens. */
export { WorkDayView } from "./day/WorkDayView";
export { HandoutView } from "./list/HandoutView";
export { MyListView } from "./list/MyListView";
export { WorkDaysView } from "./WorkDaysView";
