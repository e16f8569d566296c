"""A work day: how long repairs take, who does which in what order, what is mixed when."""
