"""A repair as the rows tell it: what is known of its defects, and what the whole ticket takes."""
