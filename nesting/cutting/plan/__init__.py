"""How a cloth could lie: what is wanted, in which zones, on which lines, round which flaws."""
