"""Small faults put into a module: would a test notice? See `benchmarks.mutants`."""
