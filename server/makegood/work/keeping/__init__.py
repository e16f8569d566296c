"""What is done with a site as a whole: back up, restore, check, tidy."""
