"""Outlines as the engine sees them: shapes, no-fit polygons, and the tables that kernels read."""
