/** The screens of tickets. */
export { BoardView } from "./board/BoardView";
export { TicketForm } from "./form/TicketForm";
export { TicketView } from "./TicketView";
export { TicketsView } from "./TicketsView";
