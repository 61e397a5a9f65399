"""How values are said: one module for each thing that is said."""
