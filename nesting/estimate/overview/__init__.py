"""Many results seen together: versions, widths, sizes, and what to ask for in the shop."""
