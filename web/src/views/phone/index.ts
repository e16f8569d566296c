/** The page of this phone. */
export { PhoneView } from "./PhoneView";
