/** The shopping list. */
export { BuyingView } from "./BuyingView";
