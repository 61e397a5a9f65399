"""What it is cut from, and how many metres to buy for a lay."""
