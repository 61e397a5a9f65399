"""The best lay: plans laid by the engine, spreads tried, only what is verified let out."""
