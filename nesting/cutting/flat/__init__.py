"""What a lay is, opened out: which cloth lies where, what comes off the table, and where to find it."""
