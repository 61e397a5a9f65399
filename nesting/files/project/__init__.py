"""From the tables of a project file to pieces, cloths, sizes and alternatives."""
