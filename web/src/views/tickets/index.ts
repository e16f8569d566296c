/** The screens of tickets. */
export { TicketForm } from "./TicketForm";
export { TicketView } from "./TicketView";
export { TicketsView } from "./TicketsView";
