"""What lasted, from a site's rows: for its paper and its table."""
