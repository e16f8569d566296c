/** The screens of tickets. */
export { TicketForm } from "./form/TicketForm";
export { TicketView } from "./TicketView";
export { TicketsView } from "./TicketsView";
